using System.Text.Json;
using System.Threading.Channels;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>
/// The journal in one SQLite file. One task owns the one writing connection; whoever appends waits until the fact is on the
/// disk (WAL, synchronous FULL). What waits together is committed together. A disk that is full or read-only is tried again
/// with every append. A fact for which nobody waits lets others join it for a moment, and whoever has just been woken for the same event has the processor first.
/// </summary>
public sealed class SqliteJournal : IJournal, IJournalReader, IAsyncDisposable
{
    /// <summary>How many facts may wait for the disk; one more is refused.</summary>
    public const int Room = 4096;

    /// <summary>How many facts go into one commit at the most.</summary>
    private const int Together = 256;

    /// <summary>How long a fact for which nobody waits lets others join it: long beside the way of a warning to a listener, short beside a flush of a disk.</summary>
    private static readonly TimeSpan Moment = TimeSpan.FromMilliseconds(2);

    private readonly TimeProvider _time;
    private readonly WriteAccess _access;
    private readonly SqliteJournalReader _reader;
    private readonly Task _writer;
    private readonly Channel<Waiting> _waiting = Channel.CreateBounded<Waiting>(
        new BoundedChannelOptions(Room) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    private volatile string? _trouble;
    private volatile bool _closed;

    private SqliteJournal(JournalFiles files, WriteAccess access, string? trouble, TimeProvider time)
    {
        _access = access;
        _time = time;
        _trouble = trouble;
        _reader = new SqliteJournalReader(files.Folder);
        _writer = Task.Run(WriteAsync);
    }

    /// <inheritdoc/>
    public string? Trouble => _trouble;

    /// <inheritdoc/>
    public long LastPosition => _reader.LastPosition;

    /// <summary>
    /// Opens the journal of a data folder, creating both where they are missing. Where the disk is full or read-only the
    /// journal opens all the same and says so by <see cref="Trouble"/>; appends are refused until it can be written.
    /// </summary>
    /// <exception cref="JournalOpenException">Another process has it, a newer program wrote it, or it is damaged.</exception>
    /// <param name="folder">The data folder.</param>
    /// <param name="time">The clock of the disk, whatever time the service lives in; the system's unless told.</param>
    public static SqliteJournal Open(string folder, TimeProvider? time = null)
    {
        var files = new JournalFiles(folder);
        var access = new WriteAccess(files);
        try
        {
            return new SqliteJournal(files, access, access.TryOpen(), time ?? TimeProvider.System);
        }
        catch
        {
            access.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The body is not one JSON document.</exception>
    public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken) => Take(entry, isAwaited: true).WaitAsync(cancellationToken);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The body is not one JSON document.</exception>
    public Task<AppendResult> NoteAsync(NewEntry entry) => Take(entry, isAwaited: false);

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) => _reader.ReadAfter(position, kinds);

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => _reader.ReadBack(kinds);

    /// <summary>Writes a whole, consistent copy while the journal goes on.</summary>
    /// <param name="target">The copy's file; must not exist.</param>
    /// <exception cref="JournalOpenException">The copy cannot be made.</exception>
    public void BackUp(string target) => _reader.BackUp(target);

    /// <summary>Writes what still waits, and lets go of the files.</summary>
    public async ValueTask DisposeAsync()
    {
        _closed = true;
        _waiting.Writer.TryComplete();
        await _writer;
        _access.Dispose();
    }

    private Task<AppendResult> Take(NewEntry entry, bool isAwaited)
    {
        ArgumentNullException.ThrowIfNull(entry);
        RequireJson(entry.Body);
        var waiting = new Waiting(entry, isAwaited);
        if (_waiting.Writer.TryWrite(waiting))
            return waiting.Done.Task;
        var reason = _closed ? "The journal is closed." : $"More than {Room} facts wait for the disk.";
        return Task.FromResult(new AppendResult(AppendOutcome.Unavailable, null, reason));
    }

    private async Task WriteAsync()
    {
        var batch = new List<Waiting>(Together);
        var more = _waiting.Reader.WaitToReadAsync().AsTask();
        while (await more)
        {
            batch.Clear();
            Task? moment = null;
            do
            {
                while (batch.Count < Together && _waiting.Reader.TryRead(out var next))
                    batch.Add(next);
                more = _waiting.Reader.WaitToReadAsync().AsTask();
            }
            while (MayGrow(batch) && await Task.WhenAny(more, moment ??= Task.Delay(Moment, _time)) == more && await more);
            Write(batch);
        }
    }

    private static bool MayGrow(List<Waiting> batch) => batch.Count < Together && !batch.Exists(one => one.IsAwaited);

    private void Write(List<Waiting> batch)
    {
        try
        {
            var results = _access.Commit([.. batch.Select(waiting => waiting.Entry)]);
            _trouble = results[0].Outcome == AppendOutcome.Unavailable ? results[0].Reason : null;
            for (var index = 0; index < batch.Count; index++)
                batch[index].Done.SetResult(results[index]);
        }
        catch (Exception unforeseen)
        {
            // Whoever waits must hear of it, and the next batch has its own chance.
            var reason = $"The journal failed: {unforeseen.Message}";
            _trouble = reason;
            foreach (var waiting in batch)
                waiting.Done.TrySetResult(new(AppendOutcome.Unavailable, null, reason));
        }
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

    private sealed record Waiting(NewEntry Entry, bool IsAwaited)
    {
        public TaskCompletionSource<AppendResult> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
