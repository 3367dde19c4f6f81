using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>Reads a journal, whether a service is writing it or not. Each reading has its own connection and reads page by page, so that it never holds up the writer.</summary>
/// <param name="folder">The data folder; where it holds no journal there is nothing to read.</param>
public sealed class SqliteJournalReader(string folder) : IJournalReader
{
    private const int PageLength = 512;

    private readonly JournalFiles _files = new(folder);

    /// <inheritdoc/>
    public long LastPosition
    {
        get
        {
            using var connection = OpenIfAny();
            return connection is null ? 0 : Ask(() => connection.ExecuteScalar<long?>("SELECT max(position) FROM entry") ?? 0);
        }
    }

    /// <inheritdoc/>
    /// <exception cref="JournalOpenException">The file cannot be read, or it is no journal.</exception>
    public IEnumerable<JournalEntry> ReadAfter(long position, params IReadOnlyCollection<string> kinds) => Read(position, kinds, back: false).Select(row => row.ToEntry());

    /// <inheritdoc/>
    /// <exception cref="JournalOpenException">The file cannot be read, or it is no journal.</exception>
    public IEnumerable<JournalEntry> ReadBack(params IReadOnlyCollection<string> kinds) => Read(long.MaxValue, kinds, back: true).Select(row => row.ToEntry());

    /// <summary>All entries as their table holds them, in order.</summary>
    internal IEnumerable<EntryRow> ReadRows() => Read(0, [], back: false);

    /// <summary>What is wrong with the file as a database, in the words of SQLite; empty where nothing is. Bodies are not looked at.</summary>
    /// <exception cref="JournalOpenException">The file cannot be read, or it is no journal.</exception>
    public IReadOnlyList<string> FindDamage()
    {
        using var connection = OpenIfAny();
        return connection is null ? [] : Ask(() =>
        {
            // A body that is no JSON keeps nobody from reading the others: that is not damage of the file.
            connection.Execute("PRAGMA ignore_check_constraints = ON");
            var found = connection.Query<string>("PRAGMA integrity_check(20)").AsList();
            return found is ["ok"] ? [] : found;
        });
    }

    /// <summary>Writes a whole, consistent copy, also while a service is writing.</summary>
    /// <param name="target">The copy's file; must not exist. It appears under this name only when it is whole and on the disk.</param>
    /// <exception cref="JournalOpenException">There is nothing to copy, the target exists, or it cannot be written.</exception>
    public void BackUp(string target)
    {
        if (File.Exists(target))
            throw new JournalOpenException($"{target} exists already; a backup overwrites nothing.");
        using var connection = OpenIfAny() ?? throw new JournalOpenException($"There is no journal in {_files.Folder}.");
        try
        {
            WholeFile.Write(target, part => connection.Execute("VACUUM INTO @part", new { part }));
        }
        catch (Exception failed) when (failed is SqliteException or IOException or UnauthorizedAccessException)
        {
            throw new JournalOpenException($"The copy {target} cannot be written: {failed.Message}", failed);
        }
    }

    private IEnumerable<EntryRow> Read(long position, IReadOnlyCollection<string> kinds, bool back)
    {
        using var connection = OpenIfAny();
        if (connection is null)
            yield break;
        var sql = PageOf(kinds.Count, back);
        var chosen = new DynamicParameters();
        foreach (var (index, kind) in kinds.Index())
            chosen.Add(KindName(index), kind);
        while (true)
        {
            chosen.Add("position", position);
            var page = Ask(() => connection.Query<EntryRow>(sql, chosen).AsList());
            foreach (var row in page)
                yield return row;
            if (page.Count < PageLength)
                yield break;
            position = page[^1].Position;
        }
    }

    // Each kind is followed along the index by itself: asked for several at once, SQLite would sort all that is left of the journal for every page.
    private static string PageOf(int kinds, bool back)
    {
        var (beyond, order) = back ? ("<", "DESC") : (">", "ASC");
        var next = $"position {beyond} @position ORDER BY position {order} LIMIT {PageLength}";
        var ofKinds = Enumerable.Range(0, kinds).Select(index => $"SELECT position FROM (SELECT position FROM entry WHERE kind = @{KindName(index)} AND {next})");
        return $"SELECT {EntryRow.Columns} FROM entry WHERE {(kinds == 0 ? "" : $"position IN ({string.Join(" UNION ALL ", ofKinds)}) AND ")}{next}";
    }

    private static string KindName(int index) => string.Create(CultureInfo.InvariantCulture, $"kind{index}");

    private SqliteConnection? OpenIfAny() => !_files.Exist ? null : Ask(() =>
    {
        var connection = SqliteAccess.OpenReading(_files);
        try
        {
            if (SchemaMigrator.RequireKnown(connection, _files.Database) > 0)
                return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }

        connection.Dispose();
        return null;
    });

    private T Ask<T>(Func<T> question)
    {
        try
        {
            return question();
        }
        catch (SqliteException damaged) when (SqliteAccess.IsDamage(damaged))
        {
            throw SqliteAccess.Damaged(_files, damaged);
        }
        catch (SqliteException failed)
        {
            throw new JournalOpenException($"The journal {_files.Database} cannot be read: {failed.Message}", failed);
        }
    }
}
