using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link;

/// <summary>How a write ended, or why nothing was sent.</summary>
internal static class WriterSayings
{
    public static Saying DoneRead { get; } = Saying.Of($"Read back from the desk.");
    public static Saying FailedOther(Saying now, int input) => Saying.Of($"The desk answered {now} on input {input}.");
    public static Saying FailedMoved { get; } = Saying.Of($"The desk's value moved before the change was sent.");
    public static Saying FailedLink { get; } = Saying.Of($"The link to the desk was lost before the change was sent.");
    public static Saying FailedBusy { get; } = Saying.Of($"Another change of the same control has not been answered yet.");
    public static Saying FailedNetwork { get; } = Saying.Of($"The network refused the change.");
    public static Saying FailedStopping { get; } = Saying.Of($"The service was stopping before the change was sent.");
    public static Saying FailedOtherDesk(string desk) => Saying.Of($"The change is meant for the desk {desk}.");
    public static Saying FailedNoControl { get; } = Saying.Of($"The profile does not say how this control is set.");
    public static Saying FailedForm { get; } = Saying.Of($"The value cannot be expressed in the desk's form.");
    public static Saying UnknownSent { get; } = Saying.Of($"Sent, and the desk never said what it did.");
}
