namespace TrimAssist.Desk.Link;

/// <summary>What came of asking the desk once more.</summary>
public enum FreshRead
{
    /// <summary>Everything was asked for and answered.</summary>
    Answered,

    /// <summary>The profile has no question for some of it; the rest has answered.</summary>
    NotAsked,

    /// <summary>The desk was asked and did not answer in time.</summary>
    Silent,
}
