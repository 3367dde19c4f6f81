using TrimAssist.Desk.Profiles.Templates;

namespace TrimAssist.Desk.Profiles;

/// <summary>A message that keeps the desk sending, sent at the start and again before it lapses.</summary>
/// <param name="Message">The message; with a place for the input it is sent once for each input. <see langword="null"/> over MIDI.</param>
/// <param name="Exclusive">The same over MIDI; <see langword="null"/> over OSC.</param>
/// <param name="Renew">How often it is sent again; <see langword="null"/> for once a connection.</param>
public sealed record SubscriptionProfile(MessageTemplate? Message, ExclusiveTemplate? Exclusive, TimeSpan? Renew);
