using System.Collections.Concurrent;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>How often random histories came to the places that they are about.</summary>
internal sealed class HistoryTally
{
    private readonly ConcurrentDictionary<string, int> _counts = new(
        new[] { Write, Acknowledged, Repeated, Together, Restart, DiedWithUnsent, DiedWithUnknown, PatchHeld, PatchOpened, Recalled, Refused, ReadLater, UndoneWrite, ProposalRefused }.Select(name => KeyValuePair.Create(name, 0)));

    public const string Write = "a write on the wire";
    public const string Acknowledged = "an acknowledged confirmation";
    public const string Repeated = "a repeated confirmation";
    public const string Together = "confirmations at the same time";
    public const string Restart = "a restart";
    public const string DiedWithUnsent = "a death between the confirmation and the send";
    public const string DiedWithUnknown = "a death between the send and the read-back";
    public const string PatchHeld = "a held safe patch";
    public const string PatchOpened = "a safe patch that was opened again";
    public const string Recalled = "an open proposal met by a scene recall";
    public const string Refused = "a refused confirmation";
    public const string ReadLater = "an unknown outcome read later";
    public const string UndoneWrite = "a change taken back";
    public const string ProposalRefused = "a restart after a confirmation whose proposal's own line the disk refused";

    public IReadOnlyDictionary<string, int> Counts => _counts;

    public void Count(string what) => _counts.AddOrUpdate(what, 1, static (_, many) => many + 1);

    public override string ToString() => string.Join(", ", _counts.OrderByDescending(one => one.Value).Select(one => $"{one.Key} {one.Value}"));
}
