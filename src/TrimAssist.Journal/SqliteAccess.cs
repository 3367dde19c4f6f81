using Dapper;
using Microsoft.Data.Sqlite;

namespace TrimAssist.Journal;

/// <summary>Opens SQLite connections the way the journal needs them.</summary>
internal static class SqliteAccess
{
    private const int Corrupt = 11;
    private const int CannotOpen = 14;
    private const int NotADatabase = 26;
    private const int ReadOnly = 8;

    /// <summary>How long another program may hold the file before an append is refused.</summary>
    private const int BusyTimeoutS = 2;

    /// <summary>For the one writer: write-ahead log, each commit on the disk before it is answered. A file that is none of ours to write is left as it is.</summary>
    /// <exception cref="JournalOpenException">A newer program wrote it, or the file is another program's.</exception>
    public static SqliteConnection OpenWriting(string database)
    {
        var connection = Connect(database, SqliteOpenMode.ReadWriteCreate);
        try
        {
            // Before the log's mode is set, for that is written into the file.
            SchemaMigrator.RequireKnown(connection, database);
            var mode = connection.QuerySingle<string>("PRAGMA journal_mode = WAL");
            if (!string.Equals(mode, "wal", StringComparison.Ordinal))
                throw new IOException($"the file system of {database} cannot hold a write-ahead log");
            // NORMAL may lose the last commits on a power cut when a write-ahead log is used (SQLite's documentation of PRAGMA synchronous).
            connection.Execute("PRAGMA synchronous = FULL");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>For readers: beside a running writer, or on a file that nobody has open.</summary>
    public static SqliteConnection OpenReading(JournalFiles files)
    {
        try
        {
            return Probe(files.Database);
        }
        catch (SqliteException refused) when (refused.SqliteErrorCode is CannotOpen or ReadOnly && files.Exist && !HasUnfoldedWrites(files))
        {
            // On a read-only file system SQLite cannot make its shared-memory file; nobody can write there, so the file alone is the truth.
            return Probe(new Uri(Path.GetFullPath(files.Database)).AbsoluteUri + "?immutable=1");
        }
    }

    /// <summary>Whether the file is damaged or no journal at all, so that trying again cannot help.</summary>
    public static bool IsDamage(SqliteException failed) => failed.SqliteErrorCode is Corrupt or NotADatabase;

    /// <summary>What to do about a file that is damaged or no journal at all.</summary>
    public static JournalOpenException Damaged(JournalFiles files, SqliteException damaged) =>
        new($"{files.Database} is damaged or not a journal. Move it and its -wal file aside, and start again from a backup or anew.", damaged);

    private static bool HasUnfoldedWrites(JournalFiles files) => new FileInfo(files.WriteAheadLog) is { Exists: true, Length: > 0 };

    private static SqliteConnection Probe(string source)
    {
        var connection = Connect(source, SqliteOpenMode.ReadOnly);
        try
        {
            connection.ExecuteScalar<long>("PRAGMA schema_version");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static SqliteConnection Connect(string source, SqliteOpenMode mode)
    {
        var settings = new SqliteConnectionStringBuilder { DataSource = source, Mode = mode, Pooling = false, DefaultTimeout = BusyTimeoutS };
        var connection = new SqliteConnection(settings.ToString());
        try
        {
            connection.Open();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
