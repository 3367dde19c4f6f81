using System.Text.Json;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;

namespace TrimAssist.Service.Acts;

/// <summary>What the last run of the service left on a stage.</summary>
/// <param name="Act">The act of the last word.</param>
/// <param name="IsOn">Whether it was on; else it had gone off, and no other was on.</param>
internal sealed record ActLeft(string Act, bool IsOn);

/// <summary>The last word about the act that is on, from the journal: a service that fell in the middle of a session goes on with it.</summary>
internal static class ActMemory
{
    /// <summary>Between two sessions lies a night; an act that came on longer ago than this is no longer meant.</summary>
    private static readonly TimeSpan KeptFor = TimeSpan.FromHours(6);

    /// <summary>What was left on a desk's stage; <see langword="null"/> where nothing was said lately.</summary>
    /// <param name="journal">What earlier runs wrote.</param>
    /// <param name="desk">The desk's id.</param>
    /// <param name="now">The present.</param>
    public static ActLeft? Read(IJournalReader journal, string desk, DateTimeOffset now)
    {
        foreach (var (_, fact) in journal.ReadBack(JournalKinds.Act, JournalKinds.ActEnded))
        {
            if (now - fact.AtUtc > KeptFor)
                return null;
            if (!string.Equals(fact.Desk, desk, StringComparison.Ordinal))
                continue;
            return string.Equals(fact.Kind, JournalKinds.Act, StringComparison.Ordinal)
                ? new(JsonSerializer.Deserialize(fact.Body, ActsJson.Default.ActBody)!.Act.Name, IsOn: true)
                : new(JsonSerializer.Deserialize(fact.Body, ActsJson.Default.ActEndedBody)!.Act, IsOn: false);
        }

        return null;
    }
}
