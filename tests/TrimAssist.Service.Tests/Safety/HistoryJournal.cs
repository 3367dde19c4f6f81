using System.Text.Json;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>A disk that outlives the programs that write on it. It can refuse, keep everybody waiting, and have a program die before or after a fact is on it.</summary>
internal sealed class HistoryJournal : IJournalReader
{
    private readonly List<JournalEntry> _disk = [];
    private readonly Queue<Action> _held = new();
    private readonly Dictionary<(string Kind, Guid Proposal), int> _counts = [];
    private Desktop? _open;

    public bool Refuses { get; set; }

    /// <summary>The disk is so full that the line of a proposal no longer fits, and shorter ones do.</summary>
    public bool RefusesProposals { get; set; }

    public bool Holds { get; set; }

    /// <summary>The fact at which the program dies, and whether it is on the disk by then.</summary>
    public (string Kind, bool After)? DiesAt { get; set; }

    public long LastPosition => _disk.Count;

    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) =>
        _disk.Where(entry => entry.Position > position && (kinds.Count == 0 || kinds.Contains(entry.Fact.Kind)));

    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => ReadAfter(0, kinds).Reverse();

    /// <summary>How many facts of a kind speak of a proposal.</summary>
    public int Count(string kind, Guid proposal) => _counts.GetValueOrDefault((kind, proposal));

    /// <summary>Whether a line of the proposal's own is on the disk.</summary>
    public bool Tells(Guid proposal) => _disk.Exists(entry =>
        entry.Fact.Kind is JournalKinds.Proposal && JsonDocument.Parse(entry.Fact.Body).RootElement.GetProperty("id").GetGuid() == proposal);

    /// <summary>What waits gets its answer, in order.</summary>
    public void Release()
    {
        Holds = false;
        while (_held.TryDequeue(out var write))
            write();
    }

    /// <summary>A new program writes; the one before is dead, and what it had not written never will be.</summary>
    public IJournal Open()
    {
        _held.Clear();
        return _open = new Desktop(this);
    }

    private void Write(Desktop by, NewEntry fact, TaskCompletionSource<AppendResult> answer)
    {
        if (!ReferenceEquals(by, _open) || by.IsDead)
            return;
        var dies = DiesAt is { } at && string.Equals(at.Kind, fact.Kind, StringComparison.Ordinal);
        if (dies && !DiesAt!.Value.After)
        {
            by.IsDead = true;
            return;
        }

        if (Refuses || (RefusesProposals && fact.Kind is JournalKinds.Proposal))
        {
            answer.SetResult(new(AppendOutcome.Unavailable, null, "The disk is full."));
            return;
        }

        _disk.Add(new(_disk.Count + 1, fact));
        if (fact.Kind is JournalKinds.Confirmed or JournalKinds.Sending)
        {
            var proposal = JsonDocument.Parse(fact.Body).RootElement.GetProperty("proposal").GetGuid();
            _counts[(fact.Kind, proposal)] = Count(fact.Kind, proposal) + 1;
        }

        if (dies)
            by.IsDead = true;
        else
            answer.SetResult(new(AppendOutcome.Appended, _disk.Count, null));
    }

    /// <summary>One program's way to the disk.</summary>
    private sealed class Desktop(HistoryJournal disk) : IJournal
    {
        public bool IsDead { get; set; }

        public string? Trouble => disk.Refuses ? "The disk is full." : null;

        public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken)
        {
            var answer = new TaskCompletionSource<AppendResult>();
            if (disk.Holds)
                disk._held.Enqueue(() => disk.Write(this, entry, answer));
            else
                disk.Write(this, entry, answer);
            return answer.Task;
        }
    }
}
