using System.Text.Json;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>Backups, exports and the renewing of a journal.</summary>
public sealed class JournalCopiesTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly TemporaryFolder _elsewhere = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        _folder.Dispose();
        _elsewhere.Dispose();
    }

    [Fact]
    public async Task A_backup_taken_while_facts_are_written_is_a_whole_journal_up_to_some_fact()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        await journal.AppendAsync(Facts.Numbered(1), Cancel);
        var writing = Task.WhenAll(Enumerable.Range(2, 500).Select(number => journal.AppendAsync(Facts.Numbered(number), Cancel)));
        journal.BackUp(new JournalFiles(_elsewhere.Path).Database);
        await writing;

        await using var copy = SqliteJournal.Open(_elsewhere.Path);
        var last = copy.LastPosition;
        Assert.InRange(last, 1, 501);
        Assert.Equal(Enumerable.Range(1, (int)last).Select(Facts.Id), copy.ReadAfter(0).Select(entry => entry.Fact.Id));
        Assert.Equal(last + 1, (await copy.AppendAsync(Facts.Numbered(900), Cancel)).Position);
    }

    [Fact]
    public async Task A_backup_overwrites_nothing()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var target = _elsewhere.File("copy.db");
        await File.WriteAllTextAsync(target, "precious", Cancel);
        Assert.Throws<JournalOpenException>(() => journal.BackUp(target));
        Assert.Equal("precious", await File.ReadAllTextAsync(target, Cancel));
    }

    [Fact]
    public async Task A_backup_that_cannot_be_written_leaves_nothing_and_says_where()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var target = Path.Combine(_elsewhere.Path, "nowhere", "copy.db");
        Assert.Contains(target, Assert.Throws<JournalOpenException>(() => journal.BackUp(target)).Message, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(_elsewhere.Path));
    }

    [Fact]
    public async Task An_export_is_one_json_document_a_line_with_the_body_inside()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        await journal.AppendAsync(Facts.Numbered(1), Cancel);
        await journal.AppendAsync(Facts.Numbered(2, desk: null) with { Body = "{\n  \"gainDb\": 31.5\n}" }, Cancel);
        var target = _elsewhere.File("journal.jsonl");
        Assert.Equal(2, JournalExport.WriteFile(journal, target));

        var lines = (await File.ReadAllLinesAsync(target, Cancel)).Select(line => JsonDocument.Parse(line).RootElement).ToArray();
        Assert.Equal([1, 2], lines.Select(line => line.GetProperty("position").GetInt64()));
        Assert.Equal(Facts.Id(1), lines[0].GetProperty("id").GetGuid());
        Assert.Equal(Facts.Numbered(1).AtUtc, lines[0].GetProperty("at").GetDateTimeOffset());
        Assert.Equal("demo", lines[0].GetProperty("desk").GetString());
        Assert.Equal("Zoë ✓", lines[0].GetProperty("body").GetProperty("by").GetString());
        Assert.Equal(JsonValueKind.Null, lines[1].GetProperty("desk").ValueKind);
        Assert.Equal(31.5, lines[1].GetProperty("body").GetProperty("gainDb").GetDouble());
        Assert.Throws<JournalOpenException>(() => JournalExport.WriteFile(journal, target));
    }

    [Fact]
    public async Task A_renewed_journal_keeps_what_must_live_on_and_the_archive_keeps_all()
    {
        await Write(1, 10);
        var archive = _elsewhere.File("journal.db");
        Assert.Equal(5, JournalRetention.Renew(_folder.Path, entry => entry.Position % 2 == 0, archive));

        Assert.Equal(10, new SqliteJournalReader(_elsewhere.Path).ReadAfter(0).Count());
        await using var renewed = SqliteJournal.Open(_folder.Path);
        Assert.Equal([2, 4, 6, 8, 10], renewed.ReadAfter(0).Select(entry => entry.Position));
        Assert.Equal([2, 4, 6, 8, 10], renewed.ReadAfter(0).Select(entry => (long)entry.Fact.AtUtc.Subtract(Facts.Evening).TotalMilliseconds));
    }

    [Fact]
    public async Task Positions_are_never_used_twice_even_when_nothing_is_kept()
    {
        await Write(1, 10);
        JournalRetention.Renew(_folder.Path, _ => false, archive: null);
        await using var renewed = SqliteJournal.Open(_folder.Path);
        Assert.Empty(renewed.ReadAfter(0));
        Assert.Equal(11, (await renewed.AppendAsync(Facts.Numbered(11), Cancel)).Position);
    }

    [Fact]
    public async Task What_is_not_kept_is_gone_from_every_byte_of_the_folder()
    {
        await using (var journal = SqliteJournal.Open(_folder.Path))
            await journal.AppendAsync(Facts.Numbered(1) with { Body = "\"Rosalind of the brass\"" }, Cancel);
        JournalRetention.Renew(_folder.Path, _ => false, archive: null);
        Assert.All(
            Directory.EnumerateFiles(_folder.Path),
            file => Assert.DoesNotContain("Rosalind", File.ReadAllText(file, System.Text.Encoding.Latin1), StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_running_services_journal_is_not_renewed()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        await journal.AppendAsync(Facts.Numbered(1), Cancel);
        Assert.Throws<JournalOpenException>(() => JournalRetention.Renew(_folder.Path, _ => false, archive: null));
        Assert.Equal(1, journal.LastPosition);
    }

    [Fact]
    public async Task A_renewal_that_fails_half_way_leaves_the_journal_as_it_was()
    {
        await Write(1, 10);
        Assert.Throws<InvalidOperationException>(() => JournalRetention.Renew(
            _folder.Path, entry => entry.Position < 5 ? true : throw new InvalidOperationException("the keeper stumbled"), archive: null));
        await using var journal = SqliteJournal.Open(_folder.Path);
        Assert.Equal(10, journal.LastPosition);
    }

    private async Task Write(int from, int to)
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        foreach (var number in Enumerable.Range(from, to))
            await journal.AppendAsync(Facts.Numbered(number), Cancel);
    }
}
