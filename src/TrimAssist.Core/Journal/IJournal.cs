namespace TrimAssist.Core.Journal;

/// <summary>Takes facts that must not be forgotten. Entries are final: there is no edit and no delete.</summary>
public interface IJournal
{
    /// <summary>Why the journal could not be written when that was last tried; <see langword="null"/> while it can.</summary>
    string? Trouble { get; }

    /// <summary>Writes one fact; the answer comes when it is durable, or cannot be. Facts are written in the order of the calls.</summary>
    /// <param name="entry">The fact.</param>
    /// <param name="cancellationToken">Ends the waiting; the fact may still be written.</param>
    /// <exception cref="ArgumentException">The body is not one JSON document.</exception>
    Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken);

    /// <summary>Writes one fact for whose durability nobody waits, in the same order; it may be a moment later, so that what comes together is written together.</summary>
    /// <param name="entry">The fact.</param>
    /// <exception cref="ArgumentException">The body is not one JSON document.</exception>
    Task<AppendResult> NoteAsync(NewEntry entry) => AppendAsync(entry, CancellationToken.None);
}

/// <summary>Reads the journal, forward or from its end.</summary>
public interface IJournalReader
{
    /// <summary>The position of the last entry; 0 for an empty journal.</summary>
    long LastPosition { get; }

    /// <summary>Entries after a position, in order.</summary>
    /// <param name="position">Where to begin; 0 for everything.</param>
    /// <param name="kinds">Only entries of these kinds; empty for all.</param>
    IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds);

    /// <summary>Entries from the last one back, newest first: for whoever needs only the latest, however long the journal is.</summary>
    /// <param name="kinds">Only entries of these kinds; empty for all.</param>
    IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds);
}
