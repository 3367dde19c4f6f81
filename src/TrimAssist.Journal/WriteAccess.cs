using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>The lock and the one writing connection. Used by one thread at a time; what the disk refuses is tried anew with the next batch.</summary>
internal sealed class WriteAccess(JournalFiles files) : IDisposable
{
    private FileStream? _lock;
    private SqliteConnection? _connection;

    /// <summary>Takes the lock and opens the file, where that has not been done or the disk has failed since.</summary>
    /// <returns>Why it cannot be written for now; <see langword="null"/> when it can.</returns>
    /// <exception cref="JournalOpenException">Another process has it, a newer program wrote it, or it is damaged.</exception>
    public string? TryOpen()
    {
        if (_connection is not null)
            return files.Exist ? null : $"The journal {files.Database} has been moved away or deleted. Put it back, or start the service again.";
        try
        {
            Directory.CreateDirectory(files.Folder);
            _lock ??= JournalLock.Take(files);
            _connection = SqliteAccess.OpenWriting(files.Database);
            SchemaMigrator.Migrate(_connection, files.Database);
            return null;
        }
        catch (SqliteException damaged) when (SqliteAccess.IsDamage(damaged))
        {
            Close();
            throw SqliteAccess.Damaged(files, damaged);
        }
        catch (Exception failed) when (IsTrouble(failed))
        {
            Close();
            return Describe(failed);
        }
        catch
        {
            Close();
            throw;
        }
    }

    /// <summary>Writes facts in one commit.</summary>
    /// <returns>One answer for each, in order. Either the whole batch is on the disk or none of it is acknowledged.</returns>
    public AppendResult[] Commit(IReadOnlyList<NewEntry> batch)
    {
        try
        {
            if (TryOpen() is { } trouble)
                return Refuse(batch.Count, trouble);
            var connection = _connection!;
            connection.Execute("BEGIN IMMEDIATE");
            var results = batch.Select(entry => Append(connection, entry)).ToArray();
            connection.Execute("COMMIT");
            return results;
        }
        catch (JournalOpenException refused)
        {
            return Refuse(batch.Count, refused.Message);
        }
        catch (Exception failed) when (IsTrouble(failed))
        {
            // Closing rolls back; a connection that met a failing disk is not trusted again.
            Close();
            return Refuse(batch.Count, Describe(failed));
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Close();
        _lock?.Dispose();
        _lock = null;
    }

    private static AppendResult Append(SqliteConnection connection, NewEntry entry)
    {
        var row = EntryRow.Of(entry);
        if (connection.QuerySingleOrDefault<long?>(EntryRow.Insert, row) is { } position)
            return new(AppendOutcome.Appended, position, null);
        var there = connection.QuerySingle<EntryRow>($"SELECT {EntryRow.Columns} FROM entry WHERE id = @Id", row);
        return there.IsSameFactAs(row)
            ? new(AppendOutcome.AlreadyThere, there.Position, null)
            : new(AppendOutcome.Conflict, null, $"Entry {there.Position} has this id and says something else.");
    }

    private void Close()
    {
        try
        {
            _connection?.Dispose();
        }
        catch (SqliteException)
        {
            // The disk that failed the write may fail the closing too; the file is checked anew when it is opened.
        }

        _connection = null;
    }

    private string Describe(Exception failed) => $"The journal {files.Database} cannot be written: {failed.Message}";

    private static bool IsTrouble(Exception failed) => failed is SqliteException or IOException or UnauthorizedAccessException;

    private static AppendResult[] Refuse(int count, string reason)
    {
        var results = new AppendResult[count];
        Array.Fill(results, new AppendResult(AppendOutcome.Unavailable, null, reason));
        return results;
    }
}
