using System.Net;
using System.Text.Json.Nodes;
using Dapper;
using Microsoft.Data.Sqlite;
using TrimAssist.Journal;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>A disk that cannot be written takes the confirmations away and nothing else.</summary>
public sealed class JournalTroubleTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_full_disk_refuses_confirmations_and_says_so_while_meters_go_on_and_recovers()
    {
        using var disk = SmallDisk.Mount(_folder.File("full"));
        await AssertRefusesAndRecoversAsync(disk, () => disk.Fill("ballast"), () => File.Delete(Path.Combine(disk.Path, "ballast")));
    }

    [Fact]
    public async Task A_folder_that_goes_away_refuses_confirmations_and_says_so_while_meters_go_on_and_recovers()
    {
        var folder = Directory.CreateDirectory(_folder.File("data"));
        await using var time = new LockstepTime();
        await using var bench = await ServiceBench.StartAsync(time, folder);
        var database = Path.Combine(folder.FullName, "journal.db");
        File.Move(database, database + ".away");
        await AssertRefusedAsync(bench);
        File.Move(database + ".away", database);
        await AssertTakenAsync(bench);
    }

    [Fact]
    public async Task A_confirmation_that_the_disk_took_is_known_after_a_restart_though_it_refused_the_proposals_own_line()
    {
        var folder = Directory.CreateDirectory(_folder.File("data"));
        await using var time = new LockstepTime();
        JsonNode proposal = new JsonObject();
        await using (var first = await ServiceBench.StartAsync(time, folder))
        {
            Execute(folder, "CREATE TRIGGER no_room BEFORE INSERT ON entry WHEN NEW.kind = 'proposal' BEGIN SELECT RAISE(ABORT, 'no room for a proposal'); END");
            // In one commit with a refused line of the proposal the confirmation, or the send, is refused too: then it is proposed and confirmed anew.
            await ServiceBench.EventuallyAsync(
                async () => (await first.ConfirmAsync(proposal = await first.ProposeTrimAsync(20))).Status == HttpStatusCode.OK && await first.SettledAsync(proposal) == "applied",
                "the confirmation and the send were never taken");
        }

        Execute(folder, "DROP TRIGGER no_room");
        Assert.Empty(new SqliteJournalReader(folder.FullName).ReadAfter(0, JournalKinds.Proposal));
        await using var second = await ServiceBench.StartAsync(time, folder);
        var found = await second.StateAsync(proposal, "applied");
        foreach (var told in new[] { "digest", "input", "kind", "from", "to", "reason" })
            Assert.Equal(proposal[told]!.ToJsonString(), found[told]!.ToJsonString());
        Assert.Equal(HttpStatusCode.OK, (await second.ConfirmAsync(proposal)).Status);
        Assert.Equal(["/desk/1/gain 20"], time.Desk.Writes);
    }

    private static void Execute(DirectoryInfo folder, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={new JournalFiles(folder.FullName).Database};Pooling=False");
        connection.Open();
        connection.Execute(sql);
    }

    private static async Task AssertRefusesAndRecoversAsync(SmallDisk disk, Action breaks, Action mends)
    {
        await using var time = new LockstepTime();
        await using var bench = await ServiceBench.StartAsync(time, new DirectoryInfo(disk.Path));
        breaks();
        await AssertRefusedAsync(bench);
        mends();
        await AssertTakenAsync(bench);
    }

    private static async Task AssertRefusedAsync(ServiceBench bench)
    {
        var proposal = await bench.ProposeTrimAsync(20);
        // What still fits into the file's last page is still taken: the disk is full when the first line is refused.
        for (var input = 2; (await bench.GetAsync("health"))["journalTrouble"] is null && input <= 400; input++)
            await bench.ProposeTrimAsync(10 + (input % 15), input: 2 + (input % 3));
        var (status, answer) = await bench.ConfirmAsync(proposal);

        Assert.Equal((HttpStatusCode.ServiceUnavailable, "journal-unavailable"), (status, answer!["code"]!.GetValue<string>()));
        Assert.Equal("open", (await bench.GetAsync($"proposals/{proposal["id"]}"))["state"]!.GetValue<string>());
        Assert.Empty(bench.Desk.Writes);
        var health = await bench.GetAsync("health");
        Assert.Equal(("ok", false), (health["status"]!.GetValue<string>(), health["journalWritable"]!.GetValue<bool>()));
        Assert.NotNull(health["journalTrouble"]);
        await ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("desks/desk"))["journalTrouble"] is not null, "the page's data does not say it");
        var heard = (await bench.GetAsync("desks/desk"))["framesHeard"]!.GetValue<long>();
        await ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("desks/desk"))["framesHeard"]!.GetValue<long>() > heard + 5, "meters stopped");
    }

    private static async Task AssertTakenAsync(ServiceBench bench)
    {
        var open = (await bench.GetAsync("proposals?state=open")).AsArray().First(one => one!["input"]!.GetValue<int>() == 1)!;
        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(open)).Status);
        await bench.StateAsync(open, "applied");
        Assert.True((await bench.GetAsync("health"))["journalWritable"]!.GetValue<bool>());
    }
}
