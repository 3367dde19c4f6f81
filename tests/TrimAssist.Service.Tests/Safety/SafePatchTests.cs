using System.Net;
using System.Text.Json.Nodes;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>A safe patch through the whole service: HTTP on one side, a desk's socket on the other.</summary>
public sealed class SafePatchTests
{
    private const string Patch = "desks/desk/inputs/2/patch";

    [Fact]
    public async Task From_the_stages_question_to_the_opened_input_with_two_confirmed_writes_and_no_other()
    {
        await using var bench = await ServiceBench.StartAsync();
        var (created, asked) = await bench.PostAsync(Patch, """{"reason":"new cable"}""");
        Assert.Equal((HttpStatusCode.Created, "waiting"), (created, State(asked)));
        Assert.Equal(HttpStatusCode.OK, (await bench.PostAsync(Patch)).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await bench.PostAsync($"{Patch}/done")).Status);
        Assert.Empty(bench.Desk.Writes);

        await bench.ConfirmAsync(await bench.GetAsync($"proposals/{asked!["proposalId"]}"));
        var safe = await ComesToAsync(bench, "safe");
        Assert.InRange(safe["expiresInMs"]!.GetValue<int>(), 1, 1000);
        Assert.Equal(["/desk/2/closed 1"], bench.Desk.Writes);

        // A bang is told from a first note by the rest before it: there has to be one.
        await ServiceBench.EventuallyAsync(
            async () => (await bench.GetAsync("desks")).AsArray()[0]!["framesHeard"]!.GetValue<long>() >= 40, "the meters do not run");
        bench.Desk.Pop(2);
        await ServiceBench.EventuallyAsync(
            async () => (await bench.GetAsync("alarms")).AsArray().Any(alarm => alarm!["input"]!.GetValue<int>() == 2 && State(alarm) == "suppressed"),
            "the plug's bang was not watched");
        Assert.Equal("[]", (await bench.GetAsync("alarms?state=active")).ToJsonString());
        Assert.Equal("settling", State((await bench.PostAsync($"{Patch}/done")).Body));
        JsonNode? opening = null;
        await ServiceBench.EventuallyAsync(
            async () => (opening = (await bench.GetAsync("proposals?state=open")).AsArray().FirstOrDefault()) is not null, "nothing opens the input");
        Assert.Equal(("unmute", true, false), (opening!["kind"]!.GetValue<string>(), opening["from"]!.GetValue<bool>(), opening["to"]!.GetValue<bool>()));
        Assert.Single(bench.Desk.Writes);
        await bench.ConfirmAsync(opening);
        await ComesToAsync(bench, "done");

        Assert.Equal(["/desk/2/closed 1", "/desk/2/closed 0"], bench.Desk.Writes);
    }

    [Fact]
    public async Task No_lease_outlives_an_unmute_at_the_desk_by_more_than_a_second()
    {
        await using var bench = await ServiceBench.StartAsync();
        await HoldAsync(bench);

        await AssertNoLeaseOutlivesItAsync(bench, () => bench.Desk.Turn("/desk/2/closed", OscArgument.Of(0)));
    }

    [Fact]
    public async Task Meters_that_stop_end_it()
    {
        await using var bench = await ServiceBench.StartAsync();
        await HoldAsync(bench);

        bench.Desk.SendsMeters = false;
        await ComesToAsync(bench, "lost");
    }

    [Fact]
    public async Task A_desk_that_no_longer_answers_ends_it_although_its_meters_go_on()
    {
        await using var bench = await ServiceBench.StartAsync();
        await HoldAsync(bench);

        await AssertNoLeaseOutlivesItAsync(bench, () => bench.Desk.Answers = false);
    }

    [Fact]
    public async Task A_held_patch_stays_safe_as_long_as_the_desk_confirms_the_mute()
    {
        await using var bench = await ServiceBench.StartAsync();
        await HoldAsync(bench);
        var began = bench.Time.Clock.GetTimestamp();

        await ServiceBench.EventuallyAsync(
            async () =>
            {
                var patch = await bench.GetAsync(Patch);
                Assert.Equal("safe", State(patch));
                Assert.InRange(patch["expiresInMs"]!.GetValue<int>(), 1, 1000);
                return bench.Time.Clock.GetElapsedTime(began) > TimeSpan.FromSeconds(3);
            },
            "time stood still");
    }

    [Fact]
    public async Task A_lease_comes_only_live_and_what_is_resumed_never_carries_one()
    {
        await using var bench = await ServiceBench.StartAsync();
        using var stream = await bench.Http.GetStreamAsync("events");
        using var lines = new StreamReader(stream);
        await HoldAsync(bench);
        var (kept, renewed) = (new List<string>(), 0);
        string? kind = null, data = null, id = null, lastId = null;
        while (renewed < 3 && await lines.ReadLineAsync() is { } line)
        {
            if (line.StartsWith("event: ", StringComparison.Ordinal))
                kind = line[7..];
            else if (line.StartsWith("data: ", StringComparison.Ordinal))
                data = line[6..];
            else if (line.StartsWith("id: ", StringComparison.Ordinal))
                id = line[4..];
            if (line.Length > 0)
                continue;
            if (kind == "patch" && id is null)
                renewed += JsonNode.Parse(data!)!["expiresInMs"]!.GetValue<int>() is > 0 and <= 1000 ? 1 : 0;
            else if (kind == "patch")
                kept.Add(data!);
            lastId = id ?? lastId;
            (kind, data, id) = (null, null, null);
        }

        Assert.Contains(kept, one => State(JsonNode.Parse(one)) == "safe");
        Assert.All(kept, one => Assert.Null(JsonNode.Parse(one)!["expiresInMs"]));
        Assert.NotNull(lastId);
    }

    [Fact]
    public async Task A_mute_that_does_not_cover_the_sends_is_partly()
    {
        await using var bench = await ServiceBench.StartAsync(covers: """["main"]""");
        await ConfirmMuteAsync(bench);

        var patch = await ComesToAsync(bench, "partly");
        Assert.Equal(["sends", "direct"], patch["openPaths"]!.AsArray().Select(path => path!.GetValue<string>()));
    }

    [Theory]
    [InlineData("desks/none/inputs/1/patch")]
    [InlineData("desks/desk/inputs/0/patch")]
    [InlineData("desks/desk/inputs/5/patch")]
    public async Task What_is_not_there_cannot_be_patched(string path)
    {
        await using var bench = await ServiceBench.StartAsync();

        Assert.Equal(HttpStatusCode.NotFound, (await bench.PostAsync(path)).Status);
    }

    private static string State(JsonNode? one) => one!["state"]!.GetValue<string>();

    private static async Task ConfirmMuteAsync(ServiceBench bench)
    {
        var asked = (await bench.PostAsync(Patch)).Body!;
        await bench.ConfirmAsync(await bench.GetAsync($"proposals/{asked["proposalId"]}"));
    }

    private static async Task HoldAsync(ServiceBench bench)
    {
        await ConfirmMuteAsync(bench);
        await ComesToAsync(bench, "safe");
    }

    private static async Task<JsonNode> ComesToAsync(ServiceBench bench, string state)
    {
        JsonNode? patch = null;
        await ServiceBench.EventuallyAsync(async () => State(patch = await bench.GetAsync(Patch)) == state, $"never {state}");
        return patch!;
    }

    // As the phone counts: each lease from the moment when its question was sent. The desk's last word may have been heard a step of
    // the clock after it was said, hence the slack.
    private static async Task AssertNoLeaseOutlivesItAsync(ServiceBench bench, Action happens)
    {
        happens();
        var happened = bench.Time.Clock.GetTimestamp();
        await ServiceBench.EventuallyAsync(
            async () =>
            {
                var sent = bench.Time.Clock.GetElapsedTime(happened);
                var patch = await bench.GetAsync(Patch);
                if (patch["expiresInMs"] is { } lease)
                    Assert.InRange(sent + TimeSpan.FromMilliseconds(lease.GetValue<int>()), TimeSpan.Zero, TimeSpan.FromSeconds(1) + LockstepTime.LongestStep);
                return State(patch) == "lost";
            },
            "never lost");
    }
}
