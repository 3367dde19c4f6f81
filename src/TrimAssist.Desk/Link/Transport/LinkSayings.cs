using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>How the link to a desk stands.</summary>
internal static class LinkSayings
{
    public static Saying LinkNone { get; } = Saying.Of($"Nothing has been heard yet.");
    public static Saying LinkNoMeters { get; } = Saying.Of($"No meters have been heard yet.");
    public static Saying LinkLive { get; } = Saying.Of($"Meters arrive.");
    public static Saying LinkStale { get; } = Saying.Of($"The meters stopped.");
    public static Saying LinkAnswers { get; } = Saying.Of($"The desk answers but sends no meters.");
    public static Saying LinkSilent { get; } = Saying.Of($"The desk is silent.");
    public static Saying LinkMaking { get; } = Saying.Of($"The connection to the desk is being made.");
    public static Saying LinkNoConnection(string address, string why) => Saying.Of($"No connection to the desk at {address}: {why}");
}
