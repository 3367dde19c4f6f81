using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link;

/// <summary>Why what was heard of a desk no longer holds.</summary>
internal static class ReplacedSayings
{
    public static Saying ReplacedScene { get; } =
        Saying.Of($"A scene was recalled on the desk: what was heard before no longer holds. Check again what changed.");

    public static Saying ReplacedEngine(string address) =>
        Saying.Of($"Another engine of the desk ({address}) has taken over: what was heard before no longer holds. Check again what changed.");
}
