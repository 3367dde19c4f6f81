using System.Globalization;
using System.Threading.Channels;
using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>
/// The journal in one SQLite file. One task owns the one writing connection; whoever appends waits until the fact is on the
/// disk (WAL, synchronous FULL). What waits together is committed together.
/// </summary>
public sealed class SqliteJournal : IJournal, IJournalReader, IAsyncDisposable
{
    /// <summary>How many facts may wait for the disk; one more is refused.</summary>
    private const int Room = 4096;

    /// <summary>How many facts go into one commit at the most.</summary>
    private const int Together = 256;

    private const string Insert =
        "INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES (@Id, @AtUtc, @Desk, @Kind, @BodyVersion, @Body) "
        + "ON CONFLICT (id) DO NOTHING RETURNING position";

    private const string Columns = "position AS Position, id AS Id, at_utc AS AtUtc, desk AS Desk, kind AS Kind, body_version AS BodyVersion, body AS Body";

    private readonly FileStream _lock;
    private readonly SqliteConnection _writing;
    private readonly string _file;
    private readonly Task _writer;
    private readonly Channel<Waiting> _waiting = Channel.CreateBounded<Waiting>(
        new BoundedChannelOptions(Room) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    private SqliteJournal(string file, FileStream held, SqliteConnection writing)
    {
        _file = file;
        _lock = held;
        _writing = writing;
        _writer = Task.Run(WriteAsync);
    }

    /// <inheritdoc/>
    public long LastPosition
    {
        get
        {
            using var connection = Connect(_file, SqliteOpenMode.ReadOnly);
            return connection.ExecuteScalar<long?>("SELECT max(position) FROM entry") ?? 0;
        }
    }

    /// <summary>Opens the journal of a data folder, creating both where they are missing.</summary>
    /// <exception cref="JournalOpenException">Another process has it, it cannot be written, or it is of a newer version.</exception>
    public static SqliteJournal Open(string folder)
    {
        var file = Path.Combine(folder, "journal.db");
        FileStream? held = null;
        SqliteConnection? connection = null;
        try
        {
            Directory.CreateDirectory(folder);
            held = Hold(Path.Combine(folder, "journal.lock"), file);
            connection = Connect(file, SqliteOpenMode.ReadWriteCreate);
            connection.Execute("PRAGMA journal_mode = WAL");
            connection.Execute("PRAGMA synchronous = FULL");
            SchemaMigrator.Migrate(connection, file);
            return new SqliteJournal(file, held, connection);
        }
        catch (Exception failed)
        {
            connection?.Dispose();
            held?.Dispose();
            if (failed is IOException or UnauthorizedAccessException or SqliteException)
                throw new JournalOpenException($"The journal {file} cannot be opened: {failed.Message}", failed);
            throw;
        }
    }

    /// <inheritdoc/>
    public Task<AppendResult> AppendAsync(NewEntry entry, CancellationToken cancellationToken)
    {
        var waiting = new Waiting(entry);
        return _waiting.Writer.TryWrite(waiting)
            ? waiting.Done.Task.WaitAsync(cancellationToken)
            : Task.FromResult(new AppendResult(AppendOutcome.Unavailable, null, "The journal is closed, or too much waits for the disk."));
    }

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds)
    {
        using var connection = Connect(_file, SqliteOpenMode.ReadOnly);
        var chosen = kinds.Count == 0 ? "" : " AND kind IN @kinds";
        var rows = connection.Query<Row>($"SELECT {Columns} FROM entry WHERE position > @position{chosen} ORDER BY position", new { position, kinds }, buffered: false);
        foreach (var row in rows)
            yield return row.ToEntry();
    }

    /// <summary>Writes a whole, consistent copy while the journal goes on.</summary>
    /// <param name="target">The copy's file; must not exist.</param>
    public void BackUp(string target)
    {
        using var connection = Connect(_file, SqliteOpenMode.ReadOnly);
        connection.Execute("VACUUM INTO @target", new { target });
    }

    /// <summary>Writes what still waits, and lets go of the files.</summary>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await _writer;
        await _writing.DisposeAsync();
        await _lock.DisposeAsync();
    }

    private async Task WriteAsync()
    {
        var batch = new List<Waiting>(Together);
        while (await _waiting.Reader.WaitToReadAsync())
        {
            batch.Clear();
            while (batch.Count < Together && _waiting.Reader.TryRead(out var next))
                batch.Add(next);
            Commit(batch);
        }
    }

    private void Commit(List<Waiting> batch)
    {
        var results = new AppendResult[batch.Count];
        try
        {
            using var transaction = _writing.BeginTransaction(deferred: false);
            for (var index = 0; index < batch.Count; index++)
                results[index] = Append(batch[index].Entry, transaction);
            transaction.Commit();
        }
        catch (SqliteException failed)
        {
            Array.Fill(results, new AppendResult(AppendOutcome.Unavailable, null, failed.Message));
        }

        for (var index = 0; index < batch.Count; index++)
            batch[index].Done.SetResult(results[index]);
    }

    private AppendResult Append(NewEntry entry, SqliteTransaction transaction)
    {
        var row = Row.Of(entry);
        try
        {
            if (_writing.QuerySingleOrDefault<long?>(Insert, row, transaction) is { } position)
                return new(AppendOutcome.Appended, position, null);
        }
        catch (SqliteException refused) when (refused.SqliteErrorCode == ConstraintFailed)
        {
            return new(AppendOutcome.Conflict, null, "The body is not JSON.");
        }

        var there = _writing.QuerySingle<Row>($"SELECT {Columns} FROM entry WHERE id = @Id", row, transaction);
        return there with { Position = 0 } == row
            ? new(AppendOutcome.AlreadyThere, there.Position, null)
            : new(AppendOutcome.Conflict, null, "Another fact has this id.");
    }

    private const int ConstraintFailed = 19;

    private static FileStream Hold(string path, string file)
    {
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException failed) when (failed is not DirectoryNotFoundException)
        {
            throw new JournalOpenException($"Another service is using {file}. Stop it, or give this one another --data folder.", failed);
        }
    }

    private static SqliteConnection Connect(string file, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false }.ToString());
        connection.Open();
        return connection;
    }

    private sealed record Waiting(NewEntry Entry)
    {
        public TaskCompletionSource<AppendResult> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }

    private sealed record Row
    {
        public long Position { get; init; }

        public required string Id { get; init; }

        public required string AtUtc { get; init; }

        public string? Desk { get; init; }

        public required string Kind { get; init; }

        public long BodyVersion { get; init; }

        public required string Body { get; init; }

        public static Row Of(NewEntry entry) => new()
        {
            Id = entry.Id.ToString("N"),
            AtUtc = entry.AtUtc.UtcDateTime.ToString("O", CultureInfo.InvariantCulture),
            Desk = entry.Desk,
            Kind = entry.Kind,
            BodyVersion = entry.BodyVersion,
            Body = entry.Body,
        };

        public JournalEntry ToEntry() => new(Position, new NewEntry(
            Guid.ParseExact(Id, "N"),
            DateTimeOffset.Parse(AtUtc, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal),
            Desk,
            Kind,
            (int)BodyVersion,
            Body));
    }
}
