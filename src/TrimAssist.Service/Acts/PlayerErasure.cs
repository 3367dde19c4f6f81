using TrimAssist.Core.Acts;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;

namespace TrimAssist.Service.Acts;

/// <summary>What became of a player's lines.</summary>
/// <param name="Erased">How many lines named the player; they are gone.</param>
/// <param name="Unread">How many lines that may name players cannot be read and do not have the name in their text; they stay.</param>
internal sealed record Erasure(long Erased, long Unread);

/// <summary>Takes a player out of a stopped service's journal for good: their lines of shows, and the input lists that name them.</summary>
internal static class PlayerErasure
{
    // They name no player, and what was confirmed and sent is not forgotten for a line that cannot be read.
    private static readonly string[] NamelessKinds =
    [
        JournalKinds.Proposal, JournalKinds.Confirmed, JournalKinds.Sending, JournalKinds.Alarm, JournalKinds.Check, JournalKinds.Patch, JournalKinds.ActEnded, JournalKinds.Chain, JournalKinds.Link,
    ];

    /// <summary>Erases and keeps no copy. A line that cannot be read, or is of a kind that a later version wrote, goes where its text has the name.</summary>
    /// <exception cref="JournalOpenException">A service is using the journal, or it cannot be rewritten.</exception>
    public static Erasure Erase(string folder, string player)
    {
        var (erased, unread) = (0L, 0L);
        foreach (var line in new SqliteJournalReader(folder).ReadAfter(0))
        {
            var named = Names(line, player, out var isRead);
            erased += named ? 1 : 0;
            unread += named || isRead ? 0 : 1;
        }

        if (erased > 0)
            JournalRetention.Renew(folder, line => !Names(line, player, out _), archive: null);
        return new(erased, unread);
    }

    private static bool Names(JournalEntry line, string player, out bool isRead)
    {
        isRead = true;
        if (NamelessKinds.Contains(line.Fact.Kind, StringComparer.Ordinal))
            return false;
        var named = line.Fact.Kind switch
        {
            JournalKinds.Show => ActLines.Show.Read(line, out _) is { } show ? PlayerName.IsSame(show.Line.Player, player) : null,
            JournalKinds.Act => ActLines.Act.Read(line, out _) is { } act ? Names(act.Act, player) : null,
            JournalKinds.List => ActLines.List.Read(line, out _) is { } list ? Names(list.Act, player) : null,
            JournalKinds.PlayerForgotten => ActLines.Player.Read(line, out _) is { } wish ? PlayerName.IsSame(wish.Player, player) : null,
            _ => (bool?)null,
        };
        isRead = named is not null;
        return named ?? PlayerName.IsIn(line.Fact.Body, player);
    }

    private static bool Names(Act act, string player) => act.Inputs.Any(line => PlayerName.IsSame(line.Player, player));
}
