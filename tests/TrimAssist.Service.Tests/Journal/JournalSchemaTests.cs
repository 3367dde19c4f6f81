using System.Security.Cryptography;
using System.Text;
using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>The database itself keeps entries final, and an unknown file is refused instead of being touched.</summary>
public sealed class JournalSchemaTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private string Database => new JournalFiles(_folder.Path).Database;

    public void Dispose() => _folder.Dispose();

    public static TheoryData<string> Edits =>
    [
        "UPDATE entry SET kind = 'declined' WHERE position = 1",
        "DELETE FROM entry WHERE position = 1",
        "DELETE FROM entry",
    ];

    [Theory]
    [MemberData(nameof(Edits))]
    public async Task No_program_can_edit_or_delete_an_entry(string edit)
    {
        await WriteTwo();
        using var foreign = Connect();
        var refused = Assert.Throws<SqliteException>(() => foreign.Execute(edit));
        Assert.Contains("journal entries are final", refused.Message, StringComparison.Ordinal);
        AssertBothStand();
    }

    public static TheoryData<string> Replacements =>
    [
        "INSERT OR REPLACE INTO entry SELECT 1, replace(id, '0', '1'), at_utc, desk, 'declined', body_version, body FROM entry WHERE position = 1",
        "INSERT OR REPLACE INTO entry (id, at_utc, kind, body_version, body) SELECT id, at_utc, 'declined', 1, '{}' FROM entry WHERE position = 1",
        "INSERT INTO entry (id, at_utc, kind, body_version, body) SELECT id, at_utc, 'declined', 1, '{}' FROM entry WHERE position = 1 ON CONFLICT (id) DO UPDATE SET kind = 'declined'",
    ];

    [Theory]
    [MemberData(nameof(Replacements))]
    public async Task No_program_can_replace_an_entry(string replacement)
    {
        await WriteTwo();
        using var foreign = Connect();
        foreign.Execute(replacement);
        AssertBothStand();
    }

    public static TheoryData<string> Wrong =>
    [
        "INSERT INTO entry (id, at_utc, kind, body_version, body) VALUES (lower(hex(randomblob(16))), 'x', 'a', 1, 'no json')",
        "INSERT INTO entry (id, at_utc, kind, body_version, body) VALUES (lower(hex(randomblob(16))), 'x', 'a', 'one', '{}')",
        "INSERT INTO entry (id, at_utc, kind, body_version, body) VALUES (lower(hex(randomblob(16))), 'x', '', 1, '{}')",
        "INSERT INTO entry (id, at_utc, kind, body_version, body) VALUES ('short', 'x', 'a', 1, '{}')",
    ];

    [Theory]
    [MemberData(nameof(Wrong))]
    public async Task No_program_can_add_what_is_not_an_entry(string insert)
    {
        await WriteTwo();
        using var foreign = Connect();
        Assert.Throws<SqliteException>(() => foreign.Execute(insert));
    }

    [Fact]
    public async Task A_journal_of_a_newer_program_is_refused_and_left_as_it_is()
    {
        await WriteTwo();
        using (var foreign = Connect())
            foreign.Execute("PRAGMA user_version = 99");
        var refused = Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path));
        Assert.Contains("newer version", refused.Message, StringComparison.Ordinal);
        Assert.Contains("newer version", Assert.Throws<JournalOpenException>(() => new SqliteJournalReader(_folder.Path).LastPosition).Message, StringComparison.Ordinal);
        using var after = Connect();
        Assert.Equal(99, after.ExecuteScalar<int>("PRAGMA user_version"));
    }

    [Fact]
    public void Another_programs_database_is_refused_and_left_as_it_is()
    {
        using (var foreign = Connect())
            foreign.Execute("CREATE TABLE recipe (name TEXT)");
        var before = File.ReadAllBytes(Database);
        var refused = Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path));
        Assert.Contains("another program's database", refused.Message, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Database));
        using var after = Connect();
        Assert.Equal(["recipe"], after.Query<string>("SELECT name FROM sqlite_schema"));
    }

    [Fact]
    public void A_file_that_is_no_database_is_refused_by_name()
    {
        File.WriteAllText(Database, string.Concat(Enumerable.Repeat("This is a shopping list. ", 400)));
        var refused = Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path));
        Assert.Contains(Database, refused.Message, StringComparison.Ordinal);
        Assert.Contains("damaged or not a journal", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_journal_lets_go_of_its_lock()
    {
        File.WriteAllText(Database, string.Concat(Enumerable.Repeat("This is a shopping list. ", 400)));
        Assert.Throws<JournalOpenException>(() => SqliteJournal.Open(_folder.Path));
        File.Delete(Database);
        await using var opened = SqliteJournal.Open(_folder.Path);
        Assert.Null(opened.Trouble);
    }

    [Fact]
    public async Task An_empty_file_left_by_a_crash_becomes_a_journal()
    {
        await File.WriteAllBytesAsync(Database, [], TestContext.Current.CancellationToken);
        Assert.Equal(0, new SqliteJournalReader(_folder.Path).LastPosition);
        await WriteTwo();
        AssertBothStand();
    }

    [Fact]
    public void Scripts_are_applied_once_each_and_in_order()
    {
        string[] first = ["CREATE TABLE entry (a TEXT)"];
        string[] both = [.. first, "ALTER TABLE entry ADD COLUMN b TEXT"];
        using var connection = Connect();
        SchemaMigrator.Migrate(connection, Database, first);
        SchemaMigrator.Migrate(connection, Database, first);
        connection.Execute("INSERT INTO entry VALUES ('old')");
        SchemaMigrator.Migrate(connection, Database, both);
        Assert.Equal(2, connection.ExecuteScalar<int>("PRAGMA user_version"));
        Assert.Equal("old", connection.QuerySingle<string>("SELECT a FROM entry WHERE b IS NULL"));
    }

    [Fact]
    public void A_script_that_fails_leaves_nothing_half_done()
    {
        string[] broken = ["CREATE TABLE entry (a TEXT)", "CREATE TABLE second (a TEXT); INSERT INTO nowhere VALUES (1)"];
        using var connection = Connect();
        Assert.Throws<SqliteException>(() => SchemaMigrator.Migrate(connection, Database, broken));
        Assert.Equal(1, connection.ExecuteScalar<int>("PRAGMA user_version"));
        Assert.Equal(["entry"], connection.Query<string>("SELECT name FROM sqlite_schema"));
    }

    [Fact]
    public void A_released_script_is_never_changed() => Assert.Equal(
        ["c80f3157e0f73d57d7951d324663f6c928096024b56bca3eba6d18c1d84c6004"],
        SchemaMigrator.Scripts.Select(script => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(script)))));

    private async Task WriteTwo()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        await journal.AppendAsync(Facts.Numbered(1), TestContext.Current.CancellationToken);
        await journal.AppendAsync(Facts.Numbered(2), TestContext.Current.CancellationToken);
    }

    private void AssertBothStand() => Assert.Equal(
        [Facts.Numbered(1), Facts.Numbered(2)], new SqliteJournalReader(_folder.Path).ReadAfter(0).Select(entry => entry.Fact));

    private SqliteConnection Connect()
    {
        var connection = new SqliteConnection($"Data Source={Database};Pooling=False");
        connection.Open();
        return connection;
    }
}
