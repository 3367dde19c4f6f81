using System.Text.Json;
using TrimAssist.Core.Journal;

namespace TrimAssist.TestKit.Journal;

/// <summary>A journal in memory that keeps the same promises as the one on the disk, and can be told to refuse.</summary>
public sealed class MemoryJournal : IJournal, IJournalReader
{
    private readonly Lock _guard = new();
    private readonly List<JournalEntry> _entries = [];

    private string? _refusal;

    /// <inheritdoc/>
    public long LastPosition
    {
        get
        {
            lock (_guard)
                return _entries.Count;
        }
    }

    /// <inheritdoc/>
    public string? Trouble
    {
        get
        {
            lock (_guard)
                return _refusal;
        }
    }

    /// <summary>Refuses every append from now on, with this reason; <see langword="null"/> takes them again.</summary>
    public void Refuse(string? reason)
    {
        lock (_guard)
            _refusal = reason;
    }

    /// <inheritdoc/>
    public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(entry);
        RequireJson(entry.Body);
        cancellationToken.ThrowIfCancellationRequested();
        lock (_guard)
            return Task.FromResult(_refusal is { } reason ? new AppendResult(AppendOutcome.Unavailable, null, reason) : Append_NeedsLock(entry));
    }

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds)
    {
        JournalEntry[] found;
        lock (_guard)
            found = [.. _entries.Where(entry => entry.Position > position && (kinds.Count == 0 || kinds.Contains(entry.Fact.Kind)))];
        return found;
    }

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => ReadAfter(0, kinds).Reverse();

    private AppendResult Append_NeedsLock(NewEntry entry)
    {
        if (_entries.Find(one => one.Fact.Id == entry.Id) is { } there)
        {
            return there.Fact == entry
                ? new(AppendOutcome.AlreadyThere, there.Position, null)
                : new(AppendOutcome.Conflict, null, $"Entry {there.Position} has this id and says something else.");
        }

        _entries.Add(new JournalEntry(_entries.Count + 1, entry));
        return new(AppendOutcome.Appended, _entries.Count, null);
    }

    private static void RequireJson(string body)
    {
        try
        {
            using var document = JsonDocument.Parse(body);
        }
        catch (JsonException broken)
        {
            throw new ArgumentException("The body of an entry is one JSON document.", nameof(body), broken);
        }
    }
}
