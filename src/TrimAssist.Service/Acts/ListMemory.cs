using TrimAssist.Core.Acts;
using TrimAssist.Journal;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Acts;

/// <summary>The input lists that were taken in while the service ran, from the journal: a service that fell in the middle of the day has them again.</summary>
internal static class ListMemory
{
    /// <summary>A list of yesterday's festival is not today's.</summary>
    private static readonly TimeSpan KeptFor = TimeSpan.FromDays(1);

    /// <summary>The acts of a desk whose lists were taken in lately, in the order of their last words.</summary>
    /// <param name="journal">What earlier runs wrote.</param>
    /// <param name="desk">The desk's id.</param>
    /// <param name="inputs">How many inputs it has now; lines beyond are left out.</param>
    /// <param name="now">The present.</param>
    public static IReadOnlyList<Act> Read(LineReader journal, string desk, int inputs, DateTimeOffset now)
    {
        List<Act> acts = [];
        foreach (var line in journal.ReadAfter(0, JournalKinds.List))
        {
            if (!string.Equals(line.Fact.Desk, desk, StringComparison.Ordinal) || (line.Fault is null && now - line.Fact.AtUtc > KeptFor) || journal.Read(line, ActLines.List) is not { Act: { } act })
                continue;
            acts.RemoveAll(other => string.Equals(other.Name, act.Name, StringComparison.OrdinalIgnoreCase));
            acts.Add(act with { Inputs = [.. act.Inputs.Where(one => one.Input >= 1 && one.Input <= inputs)] });
        }

        return acts;
    }
}
