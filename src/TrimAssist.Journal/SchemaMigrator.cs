using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;

namespace TrimAssist.Journal;

/// <summary>Brings a journal's schema up to date by numbered scripts, each once, in its own transaction.</summary>
internal static class SchemaMigrator
{
    /// <summary>Applies what is missing.</summary>
    /// <exception cref="JournalOpenException">The journal was written by a newer program.</exception>
    public static void Migrate(SqliteConnection connection, string file)
    {
        var scripts = Scripts();
        var version = connection.ExecuteScalar<int>("PRAGMA user_version");
        if (version > scripts.Count)
            throw new JournalOpenException($"{file} was written by a newer version of this program (schema {version}; this one knows {scripts.Count}).");
        foreach (var (number, sql) in scripts.Where(script => script.Number > version))
        {
            using var transaction = connection.BeginTransaction();
            connection.Execute(sql, transaction: transaction);
            connection.Execute(string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {number}"), transaction: transaction);
            transaction.Commit();
        }
    }

    private static List<(int Number, string Sql)> Scripts()
    {
        var assembly = typeof(SchemaMigrator).Assembly;
        const string folder = "TrimAssist.Journal.Schema.";
        return [.. assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(folder, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(name => (int.Parse(name.AsSpan(folder.Length, 3), CultureInfo.InvariantCulture), Read(name)))];

        string Read(string name)
        {
            using var text = new StreamReader(assembly.GetManifestResourceStream(name)!);
            return text.ReadToEnd();
        }
    }
}
