namespace TrimAssist.Core.Wording;

/// <summary>What became of a proposal.</summary>
internal static class OutcomeSayings
{
    public static Saying DoneReadLater { get; } = Saying.Of($"Read back later: the desk has the value.");
    public static Saying FailedReadLater(Saying now) => Saying.Of($"Read back later: the desk is at {now}.");
    public static Saying FailedMovedWhile { get; } = Saying.Of($"The desk moved while the confirmation was written down; nothing was sent.");

    public static Saying ClosedExpired { get; } = Saying.Of($"Nobody answered in time.");
    public static Saying ClosedDeclined { get; } = Saying.Of($"Declined by the engineer.");
    public static Saying ClosedNewer { get; } = Saying.Of($"A newer proposal took its place.");
    public static Saying ClosedCheck { get; } = Saying.Of($"A new check of this input began.");
    public static Saying ClosedMoved { get; } = Saying.Of($"The desk's value moved.");
    public static Saying ClosedMovedBefore { get; } = Saying.Of($"The desk's value moved before the confirmation.");
    public static Saying ClosedPair { get; } = Saying.Of($"The pair was made or parted on the desk: a change would reach other inputs than were shown.");
    public static Saying ClosedWatch { get; } = Saying.Of($"The show watch began: no increases during the show.");
    public static Saying ClosedPlaying { get; } = Saying.Of($"The alarm was taken back: it was playing.");
    public static Saying ClosedPatch { get; } = Saying.Of($"A safe patch is under way: it stays muted.");
    public static Saying ClosedPatchLost { get; } = Saying.Of($"The safe patch is lost: it stays muted.");
    public static Saying SequenceClosed(Saying standing) => Saying.Of($"The rest of the sequence is closed; the desk is left at {standing}.");
}
