using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;

namespace TrimAssist.Journal;

/// <summary>Brings a journal's schema up to date by numbered scripts, each once, in its own transaction.</summary>
internal static class SchemaMigrator
{
    private const string Folder = "TrimAssist.Journal.Schema.";

    /// <summary>The scripts that are part of this program, in order; their numbers run from 1 without a gap.</summary>
    public static IReadOnlyList<string> Scripts { get; } = ReadScripts();

    /// <summary>Applies what is missing.</summary>
    /// <exception cref="JournalOpenException">A newer program wrote it, or the file is another program's.</exception>
    public static void Migrate(SqliteConnection connection, string file) => Migrate(connection, file, Scripts);

    /// <summary>Applies what is missing of the given scripts.</summary>
    public static void Migrate(SqliteConnection connection, string file, IReadOnlyList<string> scripts)
    {
        var version = RequireKnown(connection, file, scripts.Count);
        for (var number = version + 1; number <= scripts.Count; number++)
        {
            using var transaction = connection.BeginTransaction(deferred: false);
            connection.Execute(scripts[number - 1], transaction: transaction);
            connection.Execute(string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {number}"), transaction: transaction);
            transaction.Commit();
        }
    }

    /// <summary>Refuses what this program does not understand.</summary>
    /// <returns>The file's schema version; 0 while it holds nothing at all.</returns>
    /// <exception cref="JournalOpenException">A newer program wrote it, or the file is another program's.</exception>
    public static int RequireKnown(SqliteConnection connection, string file) => RequireKnown(connection, file, Scripts.Count);

    private static int RequireKnown(SqliteConnection connection, string file, int known)
    {
        var version = connection.ExecuteScalar<int>("PRAGMA user_version");
        if (version > known)
            throw new JournalOpenException($"{file} was written by a newer version of this program (schema {version}; this one knows {known}).") { IsNewer = true };
        var tables = connection.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'table'").AsList();
        if (version == 0 ? tables.Count > 0 : !tables.Contains("entry"))
            throw new JournalOpenException($"{file} is another program's database, not a journal. Move it aside, or choose another --data folder.");
        return version;
    }

    private static string[] ReadScripts()
    {
        var assembly = typeof(SchemaMigrator).Assembly;
        return [.. assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(name =>
            {
                using var text = new StreamReader(assembly.GetManifestResourceStream(name)!);
                return text.ReadToEnd();
            })];
    }
}
