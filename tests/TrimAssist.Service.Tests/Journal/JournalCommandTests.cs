using System.Text.Json.Nodes;
using TrimAssist.Journal;
using TrimAssist.Service.Cli;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

public sealed class JournalCommandTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_backup_is_a_whole_journal_while_the_service_goes_on_writing()
    {
        await using var journal = SqliteJournal.Open(_folder.File("data"));
        await journal.AppendAsync(Facts.Numbered(1), TestContext.Current.CancellationToken);
        Directory.CreateDirectory(_folder.File("copy"));

        Assert.Equal(0, await RunAsync("backup", _folder.File("copy/journal.db")));

        Assert.Equal([Facts.Numbered(1)], new SqliteJournalReader(_folder.File("copy")).ReadAfter(0).Select(entry => entry.Fact));
        Assert.Equal(1, await RunAsync("backup", _folder.File("copy/journal.db")));
    }

    [Fact]
    public async Task An_export_is_one_line_of_JSON_for_each_entry()
    {
        await using (var journal = SqliteJournal.Open(_folder.File("data")))
        {
            await journal.AppendAsync(Facts.Numbered(1), TestContext.Current.CancellationToken);
            await journal.AppendAsync(Facts.Numbered(2), TestContext.Current.CancellationToken);
        }

        Assert.Equal(0, await RunAsync("export", _folder.File("out.jsonl")));

        Assert.Equal([1, 2], (await File.ReadAllLinesAsync(_folder.File("out.jsonl"), TestContext.Current.CancellationToken))
            .Select(line => JsonNode.Parse(line)!["position"]!.GetValue<int>()));
    }

    [Fact]
    public async Task An_archive_keeps_the_old_journal_whole_and_is_refused_while_a_service_writes()
    {
        var journal = SqliteJournal.Open(_folder.File("data"));
        await journal.AppendAsync(Facts.Numbered(1) with { AtUtc = DateTimeOffset.UnixEpoch }, TestContext.Current.CancellationToken);
        Assert.Equal(1, await RunAsync("archive", _folder.File("old.db"), "--keep-days", "0"));
        await journal.DisposeAsync();

        Assert.Equal(0, await RunAsync("archive", _folder.File("old2.db"), "--keep-days", "0"));
        Assert.True(File.Exists(_folder.File("old2.db")));
        Assert.Empty(new SqliteJournalReader(_folder.File("data")).ReadAfter(0));
    }

    [Fact]
    public async Task A_folder_that_is_not_there_is_bad_usage() =>
        Assert.Equal(2, await JournalCommand.Create().Parse(["backup", _folder.File("x.db"), "--data", _folder.File("none")]).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken));

    private Task<int> RunAsync(params string[] arguments) =>
        JournalCommand.Create().Parse([.. arguments, "--data", _folder.File("data")]).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken);
}
