namespace TrimAssist.Core.Assist;

/// <summary>What becomes of the wish to take a change back.</summary>
public enum WayBack
{
    /// <summary>The way back is proposed.</summary>
    Proposed,

    /// <summary>There is no such proposal.</summary>
    NotFound,

    /// <summary>It was never applied: there is nothing to take back.</summary>
    NotApplied,

    /// <summary>The desk no longer has the value that was applied, or has not said.</summary>
    ValueMoved,

    /// <summary>The way back opens an input of which a safe patch is under way: a plug may be in somebody's hand.</summary>
    PatchUnderWay,

    /// <summary>The way back is an increase, and the show is watched.</summary>
    NoIncreaseNow,
}
