using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>A journal on the disk with lines in it that no program of ours wrote.</summary>
internal static class OddJournal
{
    /// <summary>Adds lines as a hand, or a disk, would: past what the table checks.</summary>
    public static async Task WriteAsync(string folder, IEnumerable<NewEntry> lines)
    {
        await using (SqliteJournal.Open(folder))
        {
            // Makes the table.
        }

        using var connection = Connect(folder);
        using var transaction = connection.BeginTransaction();
        foreach (var line in lines)
            connection.Execute(EntryRow.Insert, EntryRow.Of(line), transaction);
        transaction.Commit();
    }

    /// <summary>Adds a copy of the newest line whose id, or moment, is none.</summary>
    public static void AddFaulty(string folder)
    {
        using var connection = Connect(folder);
        const string Newest = "FROM entry ORDER BY position DESC LIMIT 1";
        connection.Execute($"INSERT INTO entry (id, at_utc, desk, kind, body_version, body) SELECT '{new string('x', 32)}', at_utc, desk, kind, body_version, body {Newest}");
        connection.Execute($"INSERT INTO entry (id, at_utc, desk, kind, body_version, body) SELECT lower(hex(randomblob(16))), 'last night', desk, kind, body_version, body {Newest}");
    }

    /// <summary>Has a newer program's mark on it.</summary>
    public static void MakeNewer(string folder)
    {
        using var connection = Connect(folder);
        connection.Execute("PRAGMA user_version = 99");
    }

    /// <summary>Overwrites pages in the middle of the file, as a failing disk would.</summary>
    public static void TearPages(string folder)
    {
        using (var connection = Connect(folder))
            connection.Execute("PRAGMA wal_checkpoint(TRUNCATE)");
        using var file = new FileStream(new JournalFiles(folder).Database, FileMode.Open, FileAccess.ReadWrite);
        file.Position = file.Length / 2;
        var noise = new byte[Math.Min(64 * 1024, file.Length / 4)];
        Array.Fill(noise, (byte)0xA5);
        file.Write(noise);
    }

    private static SqliteConnection Connect(string folder)
    {
        var connection = new SqliteConnection($"Data Source={new JournalFiles(folder).Database};Pooling=False");
        connection.Open();
        connection.Execute("PRAGMA ignore_check_constraints = ON");
        return connection;
    }
}
