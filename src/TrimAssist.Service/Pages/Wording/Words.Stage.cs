namespace TrimAssist.Service.Pages.Wording;

// Words of the stage view.
internal static partial class Words
{
    // What the stage view can show.
    private static readonly string[] States = ["Look", "None", "Waiting", "Safe", "Partly", "Settling", "Done", "Stop"];

    public static string WakeOn => Text();
    public static string WakeOff => Text();
    public static string WakeNone => Text();
    public static string StageChoose => Text();
    public static string StageMine => Text();
    public static string StageOthers => Text();
    public static string StageAsk => Text();
    public static string StagePlugged => Text();
    public static string StageWhy => Text();
    public static string StagePlayLoud => Text();
    public static string StageThanks => Text();
    public static string StageNothing => Text();

    /// <summary>What the stage may say that it wants to plug.</summary>
    public static IReadOnlyList<string> StageReasons => [Text("StageSwap"), Text("StageCable"), Text("StageLeave")];

    /// <summary>What the stage view's script shows in large type: a state, its word, and one sentence more.</summary>
    public static IReadOnlyList<(string State, string Big, string More)> StageStates =>
        [.. States.Select(state => (
            state.ToLowerInvariant(), Text($"Stage{state}"), state is "Look" ? "" : Text($"Stage{state}More")))];

    /// <summary>The paths that a mute may leave open, as the stage calls them.</summary>
    public static IReadOnlyList<(string Path, string Called)> StagePaths =>
        [("main", Text("StageOpenMain")), ("sends", Text("StageOpenSends")), ("direct", Text("StageOpenDirect"))];
}
