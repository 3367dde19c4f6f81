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

    private static SqliteConnection Connect(string folder)
    {
        var connection = new SqliteConnection($"Data Source={new JournalFiles(folder).Database};Pooling=False");
        connection.Open();
        connection.Execute("PRAGMA ignore_check_constraints = ON");
        return connection;
    }
}
