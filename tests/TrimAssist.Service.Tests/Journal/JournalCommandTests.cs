using System.Text.Json.Nodes;
using TrimAssist.Journal;
using TrimAssist.Service.Cli;
using TrimAssist.Service.Tests.JournalLines;
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
    public async Task A_check_names_every_line_that_cannot_be_read_and_is_1_where_there_is_one()
    {
        await OddJournal.WriteAsync(_folder.File("data"), new Evening("Paper Lanterns", "Ada Fairweather", Facts.Evening).Lines());
        Assert.Equal((0, ""), await CheckAsync());

        await OddJournal.WriteAsync(_folder.File("data"), [Damage.Entry(JournalKinds.Sending, "no json", Facts.Evening), Damage.Entry("of-a-later-version", "{}", Facts.Evening), Damage.Entry(JournalKinds.Show, "{}", Facts.Evening)]);
        var (code, said) = await CheckAsync();

        Assert.Equal(1, code);
        var lines = said.TrimEnd().Split(Environment.NewLine);
        Assert.Equal(2, lines.Length);
        Assert.StartsWith("line 10 (sending, ", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("line 12 (show, ", lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_of_a_damaged_file_is_1_and_says_so()
    {
        await OddJournal.WriteAsync(_folder.File("data"), Enumerable.Range(1, 2000).Select(number => Facts.Numbered(number)));
        OddJournal.TearPages(_folder.File("data"));
        var (code, said) = await CheckAsync();
        Assert.Equal(1, code);
        Assert.NotEmpty(said);
    }

    [Fact]
    public async Task An_export_has_odd_bodies_as_text_and_tells_of_an_id_or_a_moment_that_is_none()
    {
        await OddJournal.WriteAsync(_folder.File("data"), [Damage.Entry("show", "{\"half\": ", Facts.Evening), Damage.Entry("show", "\"\\ud800\"", Facts.Evening), Damage.Entry("show", "{\n\"a\": 1}", Facts.Evening)]);
        OddJournal.AddFaulty(_folder.File("data"));

        Assert.Equal(0, await RunAsync("export", _folder.File("out.jsonl")));

        var lines = (await File.ReadAllLinesAsync(_folder.File("out.jsonl"), TestContext.Current.CancellationToken)).Select(line => JsonNode.Parse(line)!).ToList();
        Assert.Equal(["{\"half\": ", "\"\\ud800\""], lines.Take(2).Select(line => line["body"]!.GetValue<string>()));
        Assert.Equal([true, true, false, false, false], lines.Select(line => line["bodyIsText"]?.GetValue<bool>() ?? false));
        Assert.Equal(1, lines[2]["body"]!["a"]!.GetValue<int>());
        Assert.Equal([false, false, false, true, true], lines.Select(line => line["fault"] is not null));
    }

    [Fact]
    public async Task An_archive_carries_over_a_line_whose_moment_is_none()
    {
        await OddJournal.WriteAsync(_folder.File("data"), [Damage.Entry("sending", "no json", DateTimeOffset.UnixEpoch)]);
        OddJournal.AddFaulty(_folder.File("data"));

        Assert.Equal(0, await RunAsync("archive", _folder.File("old.db"), "--keep-days", "30"));

        Assert.Equal(["no json", "no json"], new SqliteJournalReader(_folder.File("data")).ReadAfter(0).Select(line => line.Fact.Body));
    }

    [Fact]
    public async Task A_folder_that_is_not_there_is_bad_usage() =>
        Assert.Equal(2, await JournalCommand.Create().Parse(["backup", _folder.File("x.db"), "--data", _folder.File("none")]).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken));

    private async Task<(int Code, string Said)> CheckAsync()
    {
        using var said = new StringWriter();
        var check = JournalCommand.Create(said).Parse(["check", "--data", _folder.File("data")]);
        return (await check.InvokeAsync(cancellationToken: TestContext.Current.CancellationToken), said.ToString());
    }

    private Task<int> RunAsync(params string[] arguments) =>
        JournalCommand.Create().Parse([.. arguments, "--data", _folder.File("data")]).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken);
}
