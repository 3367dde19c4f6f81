using System.Net;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Doctor;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Report;
using TrimAssist.Service.Tests.Journal;
using TrimAssist.Service.Tests.Safety;
using Xunit;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>The whole service over a journal with lines in it that nobody can read: it starts, serves, and remembers all the others.</summary>
public sealed class DamagedJournalTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public static TheoryData<string> Kinds => [.. LineSample.Read.Concat(LineSample.Unread).Select(one => one.Kind)];

    public void Dispose() => _folder.Dispose();

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Every_damage_of_a_kind_of_line_leaves_the_service_starting_and_remembering_all_the_other_lines(string kind)
    {
        await using var time = new LockstepTime();
        var at = time.Clock.GetUtcNow();
        var (before, after) = (new Evening("Paper Lanterns", "Ada Fairweather", at), new Evening("Tin Whistle Club", "Bea Thornbury", at));
        var odd = Damage.Lines(LineSample.Of(kind), at).ToList();
        await OddJournal.WriteAsync(_folder.Path, [.. before.Lines(), .. odd, .. after.Lines()]);

        await using (var bench = await ServiceBench.StartAsync(time, new DirectoryInfo(_folder.Path)))
        {
            var health = await bench.GetAsync("health");
            Assert.Equal(("ok", true), (health["status"]!.GetValue<string>(), health["journalWritable"]!.GetValue<bool>()));
            Assert.Equal(ReadAtTheStart.Contains(kind) ? odd.Count : 0, health["journalLinesUnread"]!.GetValue<int>());
            await AssertRememberedAsync(bench, before, kind);
            await AssertRememberedAsync(bench, after, "nothing");
            await AssertNothingCanBeConfirmedAgainAsync(bench, [before.Open, before.Applied, after.Open, after.Applied, LineSample.Proposal]);
            // And what is new is confirmed as ever.
            var proposal = await bench.ProposeTrimAsync(20);
            Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal)).Status);
            await bench.StateAsync(proposal, "applied");
            Assert.Equal(["/desk/1/gain 20"], bench.Desk.Writes);
        }

        AssertEveryReaderGoesOn(kind, odd.Count, before, after);
    }

    private static readonly string[] ReadAtTheStart =
        [JournalKinds.Proposal, JournalKinds.Confirmed, JournalKinds.Sending, JournalKinds.List, JournalKinds.Show, JournalKinds.Chain, JournalKinds.PlayerForgotten];

    private static async Task AssertRememberedAsync(ServiceBench bench, Evening evening, string damagedAfter)
    {
        var act = Assert.Single((await bench.GetAsync("desks/desk/acts")).AsArray(), one => one!["name"]!.GetValue<string>() == evening.Act)!;
        Assert.Equal(evening.Player, act["inputs"]![0]!["player"]!.GetValue<string>());
        Assert.Equal(3, (await bench.GetAsync($"desks/desk/inputs/1/chain?act={evening.Act}"))["stages"]!.AsArray().Count);
        // A wish to be forgotten that cannot be read is everybody's who was heard before it.
        Assert.Equal(
            damagedAfter != JournalKinds.PlayerForgotten,
            (await bench.GetAsync("players")).AsArray().Any(one => one!["player"]!.GetValue<string>() == evening.Player));
        Assert.Equal("applied", (await bench.GetAsync($"proposals/{evening.Applied}"))["state"]!.GetValue<string>());
        var open = (await bench.GetAsync($"proposals/{evening.Open}"))["state"]!.GetValue<string>();
        // A confirmation or a send of nobody knows what may be this one's: then the desk is asked, and it stands elsewhere.
        if (damagedAfter is JournalKinds.Confirmed or JournalKinds.Sending)
            await bench.StateAsync(System.Text.Json.Nodes.JsonNode.Parse($$"""{"id":"{{evening.Open}}"}""")!, "failed");
        else
            Assert.Equal("expired", open);
    }

    private static async Task AssertNothingCanBeConfirmedAgainAsync(ServiceBench bench, Guid[] proposals)
    {
        foreach (var proposal in proposals)
        {
            foreach (var digest in new[] { Evening.Digest, "0f1e" })
                await bench.PostAsync($"proposals/{proposal}/confirm", $$"""{"digest":"{{digest}}"}""");
        }

        Assert.Empty(bench.Desk.Writes);
    }

    private void AssertEveryReaderGoesOn(string kind, int odd, Evening before, Evening after)
    {
        var isRead = JournalReview.FormOf(kind) is not null;
        var review = JournalReview.Of(_folder.Path);
        Assert.Equal(isRead ? odd : 0, review.Unread.Count);
        foreach (var evening in new[] { before, after })
        {
            var sheet = GainSheetReader.Read(new LineReader(new SqliteJournalReader(_folder.Path)), evening.Act)!;
            Assert.Contains(sheet.Changes, change => change.By == "engineer" && change.Input == 1);
            Assert.Equal(evening.Player, sheet.Inputs[0].Player);
        }

        Assert.Equal(review.Lines, JournalExport.WriteFile(new SqliteJournalReader(_folder.Path), _folder.File("out.jsonl")));
        Assert.Equal(review.Lines, File.ReadLines(_folder.File("out.jsonl")).Count(line => System.Text.Json.JsonDocument.Parse(line).RootElement.GetProperty("kind").GetString() is { Length: > 0 }));
        // The list, the act's coming on and the show.
        var erased = PlayerErasure.Erase(_folder.Path, before.Player);
        Assert.Equal(3, erased.Erased);
        Assert.Equal(review.Lines - 3, JournalReview.Of(_folder.Path).Lines);
        Assert.Equal(isRead ? odd : 0, JournalReview.Of(_folder.Path).Unread.Count);
    }
}
