using TrimAssist.Desk.Profiles.Templates;

namespace TrimAssist.Desk.Profiles;

/// <summary>How a control travels over MIDI.</summary>
/// <param name="Write">The form in which it is set.</param>
/// <param name="Query">The message that asks for it; <see langword="null"/> where it cannot be asked for.</param>
/// <param name="Told">The form in which the desk tells it.</param>
public sealed record MidiControl(MidiTemplate Write, ExclusiveTemplate? Query, MidiTemplate Told);
