using System.Text.Json;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;

namespace TrimAssist.Service.Acts;

/// <summary>Takes a player out of a stopped service's journal for good: their lines of shows, and the input lists that name them.</summary>
internal static class PlayerErasure
{
    /// <summary>Erases and keeps no copy.</summary>
    /// <returns>How many entries named the player.</returns>
    /// <exception cref="JournalOpenException">A service is using the journal, or it cannot be rewritten.</exception>
    public static long Erase(string folder, string player)
    {
        var erased = new SqliteJournalReader(folder).ReadAfter(0).LongCount(entry => Names(entry.Fact, player));
        if (erased > 0)
            JournalRetention.Renew(folder, entry => !Names(entry.Fact, player), archive: null);
        return erased;
    }

    private static bool Names(NewEntry fact, string player) => fact.Kind switch
    {
        JournalKinds.Show => ShowMemory.IsOf(JsonSerializer.Deserialize(fact.Body, ActsJson.Default.ShowInput)!, player),
        JournalKinds.Act => JsonSerializer.Deserialize(fact.Body, ActsJson.Default.ActBody)!.Act.Inputs.Any(line => ShowMemory.IsSame(line.Player, player)),
        JournalKinds.List => JsonSerializer.Deserialize(fact.Body, ActsJson.Default.ListBody)!.Act.Inputs.Any(line => ShowMemory.IsSame(line.Player, player)),
        JournalKinds.PlayerForgotten => ShowMemory.IsSame(JsonSerializer.Deserialize(fact.Body, ActsJson.Default.PlayerBody)!.Player, player),
        _ => false,
    };
}
