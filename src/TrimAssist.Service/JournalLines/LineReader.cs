using TrimAssist.Core.Journal;

namespace TrimAssist.Service.JournalLines;

/// <summary>A line that could not be read.</summary>
/// <param name="Position">Its place in the journal.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Id">Its id.</param>
/// <param name="Reason">Why, in one sentence.</param>
internal sealed record UnreadLine(long Position, string Kind, Guid Id, string Reason)
{
    /// <inheritdoc/>
    public override string ToString() => $"line {Position} ({Kind}, {Id}): {Reason}";
}

/// <summary>
/// Reads the journal for those who remember, line by line. A line that cannot be read keeps nobody from the others: it is left out, counted and
/// told. One owner at a time: whoever reads.
/// </summary>
/// <param name="journal">The journal.</param>
internal sealed class LineReader(IJournalReader journal)
{
    /// <summary>How many unread lines are told one by one; the rest are counted.</summary>
    public const int Told = 5;

    private readonly List<UnreadLine> _first = [];
    private int _unread;

    /// <summary>How many lines could not be read.</summary>
    public int Unread => Volatile.Read(ref _unread);

    /// <summary>What could not be read, in one sentence: the first few and how many more; <see langword="null"/> where all could.</summary>
    public string? Complaint => Unread == 0
        ? null
        : $"{Unread} of the journal's lines could not be read; all others are used. Left out: {string.Join("; ", _first)}{(Unread > Told ? $"; and {Unread - Told} more" : "")}";

    /// <inheritdoc cref="IJournalReader.ReadAfter"/>
    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) => journal.ReadAfter(position, kinds);

    /// <inheritdoc cref="IJournalReader.ReadBack"/>
    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => journal.ReadBack(kinds);

    /// <summary>What a line says; <see langword="null"/> where it cannot be read, which is counted.</summary>
    public T? Read<T>(JournalEntry line, LineForm<T> form)
        where T : class
    {
        var body = form.Read(line, out var reason);
        if (reason is null)
            return body;
        if (_first.Count < Told)
            _first.Add(new(line.Position, line.Fact.Kind, line.Fact.Id, reason));
        Volatile.Write(ref _unread, _unread + 1);
        return null;
    }
}
