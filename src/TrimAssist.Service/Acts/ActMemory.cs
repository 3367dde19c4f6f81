using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Acts;

/// <summary>What the last run of the service left on a stage.</summary>
/// <param name="Act">The act of the last word.</param>
/// <param name="IsOn">Whether it was on; else it had gone off, and no other was on.</param>
/// <param name="IsMeant">Whether the desk was in use so lately that this session goes on with it.</param>
internal sealed record ActLeft(string Act, bool IsOn, bool IsMeant);

/// <summary>The last word about the act that is on, from the journal: a service that fell in the middle of a session goes on with it.</summary>
internal static class ActMemory
{
    /// <summary>Between two sessions lies a night: what was on when a desk was out of use for longer than this is no longer meant.</summary>
    private static readonly TimeSpan KeptFor = TimeSpan.FromHours(6);

    // What somebody did or played; a link or an alarm moves while nobody is there.
    private static readonly string[] Use =
    [
        JournalKinds.Act, JournalKinds.ActEnded, JournalKinds.List, JournalKinds.Chain, JournalKinds.Check, JournalKinds.Show, JournalKinds.Confirmed, JournalKinds.Patch,
    ];

    /// <summary>What was left on a desk's stage; <see langword="null"/> where nothing was ever said of it, or the last word cannot be read.</summary>
    /// <param name="journal">What earlier runs wrote.</param>
    /// <param name="desk">The desk's id.</param>
    /// <param name="now">The present.</param>
    public static ActLeft? Read(LineReader journal, string desk, DateTimeOffset now)
    {
        string? NameIn(JournalEntry? line) => line is null ? null : journal.Read(line, ActLines.NamedAct)?.Act.Name;
        bool IsOfDesk(JournalEntry line) => string.Equals(line.Fact.Desk, desk, StringComparison.Ordinal);
        if (journal.ReadBack(JournalKinds.Act, JournalKinds.ActEnded).FirstOrDefault(IsOfDesk) is not { } word)
            return null;
        var isOn = string.Equals(word.Fact.Kind, JournalKinds.Act, StringComparison.Ordinal);
        if ((isOn ? NameIn(word) : journal.Read(word, ActLines.ActEnded)?.Act ?? NameIn(journal.ReadBack(JournalKinds.Act).FirstOrDefault(IsOfDesk))) is not { } act)
            return null;
        var lastUse = journal.ReadBack(Use).First(line => IsOfDesk(line) && line.Fault is null);
        return new(act, isOn, IsMeant: now - lastUse.Fact.AtUtc <= KeptFor);
    }
}
