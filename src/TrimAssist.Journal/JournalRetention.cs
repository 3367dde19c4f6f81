using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>
/// Ends one journal and begins the next. Entries are final, so nothing is deleted: the old file is kept whole as an archive
/// and a new one begins with the entries that must live on, at their old positions. Without an archive what is not kept is gone, as when a
/// player asks to be forgotten.
/// </summary>
public static class JournalRetention
{
    /// <summary>Renews the journal of a stopped service. A crash at any moment leaves either the old journal or the new one.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="keep">Whether an entry lives on.</param>
    /// <param name="archive">Where the old journal is kept; must not exist. <see langword="null"/> keeps none.</param>
    /// <returns>How many entries live on.</returns>
    /// <exception cref="JournalOpenException">A service or a reader has it, it is no journal, or a file cannot be written.</exception>
    public static long Renew(string folder, Func<JournalEntry, bool> keep, string? archive)
    {
        ArgumentNullException.ThrowIfNull(keep);
        var files = new JournalFiles(folder);
        var reader = new SqliteJournalReader(folder);
        try
        {
            using var held = JournalLock.Take(files);
            if (archive is not null)
                reader.BackUp(archive);
            var kept = WriteNext(files, reader, keep);
            FoldIn(files);
            File.Move(files.Next, files.Database, overwrite: true);
            return kept;
        }
        catch (Exception failed) when (failed is SqliteException or IOException or UnauthorizedAccessException)
        {
            throw new JournalOpenException($"The journal {files.Database} cannot be renewed: {failed.Message}", failed);
        }
        finally
        {
            File.Delete(files.Next);
        }
    }

    private static long WriteNext(JournalFiles files, SqliteJournalReader old, Func<JournalEntry, bool> keep)
    {
        File.Delete(files.Next);
        File.Delete(files.Next + "-wal");
        var kept = 0L;
        using (var next = SqliteAccess.OpenWriting(files.Next))
        {
            SchemaMigrator.Migrate(next, files.Next);
            next.Execute("BEGIN IMMEDIATE");
            // What was damaged on its disk is carried as it stands: one body that is no JSON must not hold up the rest.
            next.Execute("PRAGMA ignore_check_constraints = ON");
            foreach (var row in old.ReadRows().Where(row => keep(row.ToEntry())))
                kept += next.Execute(EntryRow.Carry, row);
            GoOnFrom(next, old.LastPosition);
            next.Execute("COMMIT");
            Fold(next, files.Next);
        }

        return kept;
    }

    // Positions are never used twice: who remembers the last one they saw must not miss what comes after it.
    private static void GoOnFrom(SqliteConnection next, long last)
    {
        next.Execute("DELETE FROM sqlite_sequence WHERE name = 'entry'");
        next.Execute("INSERT INTO sqlite_sequence (name, seq) VALUES ('entry', @last)", new { last });
    }

    private static void FoldIn(JournalFiles files)
    {
        using (var old = SqliteAccess.OpenWriting(files.Database))
            Fold(old, files.Database);
        if (File.Exists(files.WriteAheadLog))
            throw new IOException("another program is reading it");
    }

    private static void Fold(SqliteConnection connection, string file)
    {
        if (connection.QuerySingle<long>("PRAGMA wal_checkpoint(TRUNCATE)") != 0)
            throw new IOException($"another program is reading {file}");
    }
}
