using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>Proposals as they are looked at, a pop with its alarm and its mute, and what an engineer does with alarms.</summary>
public sealed class ProposalsAndAlarmsTests : IAsyncLifetime
{
    private static readonly string[] ProposalFields =
    [
        "id", "desk", "input", "inputs", "socket", "kind", "from", "to", "reason", "evidence", "affects", "needs", "state", "digest", "createdAt",
        "expiresAt", "sequenceId", "step", "steps",
    ];

    private static readonly string[] AlarmFields =
        ["id", "desk", "input", "kind", "priority", "atS", "at", "sizeDb", "state", "text", "proposalId"];

    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task A_trim_proposal_says_everything_that_is_confirmed_with_its_reason_and_evidence()
    {
        var proposal = await _stage.ProposalAsync();

        Assert.All(ProposalFields, name => Assert.True(proposal.AsObject().ContainsKey(name), name));
        Assert.Equal(("trim", "open", "bench", 30.0), (Text(proposal, "kind"), Text(proposal, "state"), Text(proposal, "desk"), proposal["from"]!.GetValue<double>()));
        Assert.Equal("[1]", proposal["inputs"]!.ToJsonString());
        Assert.Equal("box 1", Text(proposal, "socket"));
        Assert.Equal(64, Text(proposal, "digest").Length);
        Assert.Equal((1, 1), (proposal["step"]!.GetValue<int>(), proposal["steps"]!.GetValue<int>()));
        Assert.Equal(-12, proposal["evidence"]!["targetPeakDbfs"]!.GetValue<double>());
        Assert.InRange(proposal["to"]!.GetValue<double>(), 0, 29);
        Assert.Equal(proposal.ToJsonString(), (await _stage.GetAsync($"api/proposals/{proposal["id"]}")).ToJsonString());
    }

    [Fact]
    public async Task The_list_is_newest_first_and_can_be_asked_for_one_state()
    {
        var first = await _stage.ProposalAsync(1);
        var second = await _stage.ProposalAsync(2);
        await _stage.PostAsync($"api/proposals/{first["id"]}/decline");

        var all = await _stage.GetAsync("api/proposals");
        Assert.Equal([Text(second, "id"), Text(first, "id")], Trims(all));
        var made = all.AsArray().Select(one => one!["createdAt"]!.GetValue<DateTimeOffset>()).ToList();
        Assert.Equal(made.OrderDescending(), made);
        Assert.Equal([Text(second, "id")], Trims(await _stage.GetAsync("api/proposals?state=open")));
        Assert.Equal([Text(first, "id")], Trims(await _stage.GetAsync("api/proposals?state=declined")));
        Assert.Empty((await _stage.GetAsync("api/proposals?state=applied")).AsArray());
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/proposals?state=nonsense", TestContext.Current.CancellationToken), 400, "bad-state");
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/proposals?state=3", TestContext.Current.CancellationToken), 400, "bad-state");
    }

    [Fact]
    public async Task A_pulled_plug_makes_an_alarm_and_a_mute_proposal_of_twenty_seconds()
    {
        var (alarm, mute) = await PopAsync();

        Assert.All(AlarmFields, name => Assert.True(alarm.AsObject().ContainsKey(name), name));
        Assert.Equal(("pop", "unacknowledged", 1), (Text(alarm, "kind"), Text(alarm, "state"), alarm["input"]!.GetValue<int>()));
        Assert.Equal(("mute", false, true), (Text(mute, "kind"), mute["from"]!.GetValue<bool>(), mute["to"]!.GetValue<bool>()));
        Assert.Equal("""["main","sends","direct"]""", mute["affects"]!.ToJsonString());
        Assert.Equal(TimeSpan.FromSeconds(20), mute["expiresAt"]!.GetValue<DateTimeOffset>() - mute["createdAt"]!.GetValue<DateTimeOffset>());

        await _stage.ConfirmAsync(mute);
        await _stage.BecomesAsync(mute, "applied");
        Assert.Equal(["/bench/1/closed 1"], _stage.Desk.Writes);
    }

    [Fact]
    public async Task A_mute_that_nobody_confirms_expires_after_twenty_seconds()
    {
        var (_, mute) = await PopAsync();

        // A second has passed since the pop.
        await _stage.WaitAsync(TimeSpan.FromSeconds(18));
        Assert.Contains(Text(mute, "id"), Ids(await _stage.GetAsync("api/proposals?state=open")));
        await _stage.WaitAsync(TimeSpan.FromSeconds(1.5));
        Assert.Equal("expired", Text(await _stage.GetAsync($"api/proposals/{mute["id"]}"), "state"));
        Assert.Empty(_stage.Desk.Writes);
    }

    [Fact]
    public async Task Alarms_are_counted_by_the_standards_measures_for_whoever_asks_and_in_the_metrics()
    {
        await PopAsync();
        // The metrics' figures are two seconds old at the most.
        await _stage.PassAsync(50);

        var rates = Assert.Single((await _stage.GetAsync("api/alarms/rates")).AsArray())!;
        var figures = rates["figures"]!;
        Assert.Equal(("bench", false, 0L), (Text(rates, "desk"), figures["flood"]!.GetValue<bool>(), figures["chattering"]!.GetValue<long>()));
        Assert.InRange(figures["lastTenMinutes"]!.GetValue<int>(), 1, 5);
        Assert.InRange(figures["highShare"]!.GetValue<double>(), 0.2, 1);
        foreach (var (told, name) in new[] { ("alarms", "alarms"), ("lastTenMinutes", "alarms_last_ten_minutes"), ("lastHour", "alarms_last_hour") })
        {
            var line = new Regex(string.Create(CultureInfo.InvariantCulture, $@"^trimassist_{name}\{{[^\n]*desk=""bench""[^\n]*\}} {figures[told]}\b"), RegexOptions.Multiline, TimeSpan.FromSeconds(1));
            await ApiStage.UntilAsync(async () => line.IsMatch(await _stage.Http.GetStringAsync("metrics", TestContext.Current.CancellationToken)));
        }
    }

    [Fact]
    public async Task An_alarm_is_acknowledged_shelved_for_a_time_and_told_no_nonsense()
    {
        var (alarm, _) = await PopAsync();

        await ApiStage.ProblemAsync(await _stage.SendAsync($"api/alarms/{alarm["id"]}/shelve", """{"minutes":0}"""), 400, "bad-minutes");
        await ApiStage.ProblemAsync(await _stage.SendAsync($"api/alarms/{alarm["id"]}/shelve", "{}"), 400, "bad-minutes");
        Assert.Equal("shelved", Text(await _stage.PostAsync($"api/alarms/{alarm["id"]}/shelve", """{"minutes":5}""", 200), "state"));
        Assert.DoesNotContain(Text(alarm, "id"), Ids(await _stage.GetAsync("api/alarms?state=active")));
        Assert.Contains(Text(alarm, "id"), Ids(await _stage.GetAsync("api/alarms")));

        await _stage.WaitAsync(TimeSpan.FromMinutes(5));
        Assert.Contains(Text(alarm, "id"), Ids(await _stage.GetAsync("api/alarms?state=active")));
        Assert.Equal("normal", Text(await _stage.PostAsync($"api/alarms/{alarm["id"]}/acknowledge", status: 200), "state"));
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/alarms?state=loud", TestContext.Current.CancellationToken), 400, "bad-state");
    }

    [Fact]
    public async Task The_watch_takes_back_an_increase_and_leaves_a_decrease()
    {
        var finished = await _stage.CheckAsync((1, -5), (2, -40));
        var (down, up) = (finished["proposals"]![0]!, finished["proposals"]![1]!);

        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");

        Assert.Equal("open", Text(await _stage.GetAsync($"api/proposals/{down["id"]}"), "state"));
        Assert.Equal("superseded", Text(await _stage.GetAsync($"api/proposals/{up["id"]}"), "state"));
    }

    private async Task<(JsonNode Alarm, JsonNode Mute)> PopAsync()
    {
        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
        await _stage.PassAsync(100);
        _stage.Desk.PullPlug(1);
        await _stage.PassAsync(20);
        var alarm = (await _stage.GetAsync("api/alarms")).AsArray().Single(one => Text(one!, "kind") == "pop")!;
        return (alarm, await _stage.GetAsync($"api/proposals/{alarm["proposalId"]}"));
    }

    private static string Text(JsonNode node, string name) => node[name]!.GetValue<string>();

    // First notes may have been taken for bangs and taken back: their mutes stand in the list too.
    private static IEnumerable<string> Trims(JsonNode list) => list.AsArray().Where(one => Text(one!, "kind") == "trim").Select(one => Text(one!, "id"));

    private static List<string> Ids(JsonNode list) => [.. list.AsArray().Select(one => Text(one!, "id"))];
}
