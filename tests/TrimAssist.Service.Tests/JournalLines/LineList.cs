using TrimAssist.Core.Journal;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>Lines to be read, whatever is in them.</summary>
internal sealed class LineList(IReadOnlyList<JournalEntry> lines) : IJournalReader
{
    public long LastPosition => lines.Count == 0 ? 0 : lines[^1].Position;

    /// <summary>The lines of facts, in their order.</summary>
    public static LineList Of(IEnumerable<NewEntry> facts) => new([.. facts.Select((fact, index) => new JournalEntry(index + 1, fact))]);

    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) =>
        lines.Where(line => line.Position > position && (kinds.Count == 0 || kinds.Contains(line.Fact.Kind)));

    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => ReadAfter(0, kinds).Reverse();
}
