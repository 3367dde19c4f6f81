using System.Collections.Frozen;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Doctor;

/// <summary>What a whole journal is like: its file, and every line of it.</summary>
/// <param name="Lines">How many lines there are.</param>
/// <param name="Damage">What is wrong with the file as a database; empty where nothing is.</param>
/// <param name="Unread">The lines that cannot be read: they are left out wherever the journal is read.</param>
/// <param name="UnknownKinds">How many lines are of kinds that this version does not know. A later version wrote them, and they are left alone.</param>
internal sealed record JournalReview(long Lines, IReadOnlyList<string> Damage, IReadOnlyList<UnreadLine> Unread, long UnknownKinds)
{
    private static readonly FrozenDictionary<string, ILineForm> Forms = new Dictionary<string, ILineForm>(StringComparer.Ordinal)
    {
        [JournalKinds.Proposal] = ReplyLines.Proposal,
        [JournalKinds.Confirmed] = GateLines.Confirmed,
        [JournalKinds.Sending] = GateLines.Sending,
        [JournalKinds.Alarm] = ReplyLines.Alarm,
        [JournalKinds.Act] = ActLines.Act,
        [JournalKinds.ActEnded] = ActLines.ActEnded,
        [JournalKinds.List] = ActLines.List,
        [JournalKinds.Show] = ActLines.Show,
        [JournalKinds.Chain] = ChainMemory.Line,
        [JournalKinds.PlayerForgotten] = ActLines.Player,
    }.ToFrozenDictionary(StringComparer.Ordinal);

    // Written for whoever exports them; the program itself never reads them again.
    private static readonly FrozenSet<string> Kept = FrozenSet.Create(StringComparer.Ordinal, JournalKinds.Check, JournalKinds.Patch, JournalKinds.Link);

    /// <summary>The form that lines of a kind are read by; <see langword="null"/> where nobody reads them.</summary>
    public static ILineForm? FormOf(string kind) => Forms.GetValueOrDefault(kind);

    /// <summary>Reads a whole journal, also while a service is writing it.</summary>
    /// <param name="folder">The data folder.</param>
    /// <exception cref="JournalOpenException">The file cannot be read to its end, or it is no journal.</exception>
    public static JournalReview Of(string folder)
    {
        var journal = new SqliteJournalReader(folder);
        if (journal.FindDamage() is { Count: > 0 } damage)
            return new(0, damage, [], 0);
        var (lines, unknown) = (0L, 0L);
        List<UnreadLine> unread = [];
        foreach (var line in journal.ReadAfter(0))
        {
            lines++;
            var form = FormOf(line.Fact.Kind);
            if (form is null && !Kept.Contains(line.Fact.Kind))
                unknown++;
            if ((form is null ? line.Fault : form.WhyNot(line)) is { } reason)
                unread.Add(new(line.Position, line.Fact.Kind, line.Fact.Id, reason));
        }

        return new(lines, [], unread, unknown);
    }
}
