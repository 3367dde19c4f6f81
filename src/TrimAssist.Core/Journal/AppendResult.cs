namespace TrimAssist.Core.Journal;

/// <summary>How an append ended.</summary>
public enum AppendOutcome
{
    /// <summary>Durable.</summary>
    Appended,

    /// <summary>The very same fact was durable already.</summary>
    AlreadyThere,

    /// <summary>Another fact has this id; nothing was written.</summary>
    Conflict,

    /// <summary>Not acknowledged: the disk, the folder or the queue is full, read-only or closed. The same fact may be tried again under its id.</summary>
    Unavailable,
}

/// <summary>How an append ended, where the fact stands, and why it could not be written.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="Position">Its place, where it is durable.</param>
/// <param name="Reason">One sentence where it is not.</param>
public sealed record AppendResult(AppendOutcome Outcome, long? Position, string? Reason)
{
    /// <summary>Whether the fact is on the disk.</summary>
    public bool Durable => Outcome is AppendOutcome.Appended or AppendOutcome.AlreadyThere;
}
