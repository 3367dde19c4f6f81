using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Loops;

/// <summary>What became of a confirmation that the desk never saw, or never answered.</summary>
internal static class KeeperSayings
{
    public static Saying FailedJournal { get; } = Saying.Of($"The journal could not be written; nothing was sent.");
    public static Saying FailedWatch { get; } = Saying.Of($"The show watch began before it was sent: no increase during the show.");
    public static Saying UnknownStopped { get; } = Saying.Of($"Sent before the service stopped; the desk has not been read since.");
    public static Saying FailedStopped { get; } = Saying.Of($"Confirmed, but the service stopped before it was sent. It is not sent again.");
    public static Saying FailedStoppedBefore { get; } = Saying.Of($"The service stopped before it was sent. It is not sent again.");
    public static Saying UnknownUnread { get; } = Saying.Of($"What became of it stands in a line of the journal that cannot be read; the desk has not been read since.");
    public static Saying ClosedRestart { get; } = Saying.Of($"The service was started again.");
    public static Saying UnknownWaiting { get; } = Saying.Of($"The service stopped while it waited for the desk.");
    public static Saying UnknownFault(string fault) => Saying.Of($"A fault inside the program: {fault}");
}
