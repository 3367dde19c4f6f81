using TrimAssist.Service.Security;

namespace TrimAssist.Service.Pages.Frame;

/// <summary>The views that a menu leads to, by the end of their address.</summary>
internal static class Places
{
    /// <summary>The engineer's view, the stage's, the rehearsal room's, the running order, the history and the paired devices.</summary>
    public static IReadOnlyList<string> All { get; } = ["", "/stage", "/room", "/changeover", "/history", "/devices"];

    /// <summary>Those that whoever asks may open: a menu leads to no page that would be refused.</summary>
    public static IReadOnlyList<string> OpenTo(Caller caller) => [.. All.Where(view => AccessRules.Allow(caller, HttpMethods.Get, $"/desks/desk{view}"))];
}
