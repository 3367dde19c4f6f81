using System.Text;
using System.Text.Json.Nodes;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>The chain before an input over HTTP, and the advice that comes of it.</summary>
public sealed class ChainsApiTests : IAsyncLifetime
{
    private const string Chain = """
        source_dbu = -40.0
        target_dbfs = -12.0
        full_scale_dbu = 18.0
        headroom_db = 6.0
        [[stage]]
        name = "booster"
        gain_db = [0, 20]
        step_db = 1.0
        now_db = 0.0
        max_out_dbu = 10.0
        [[stage]]
        name = "preamp"
        gain_db = [0, 60]
        step_db = 1.0
        max_out_dbu = 24.0
        desk_trim = true
        """;

    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task What_is_heard_is_judged_by_the_chain_and_the_stage_to_touch_is_named()
    {
        _stage.Desk.Turn(1, "gain", 58);
        _stage.Desk.Play(1, -40);
        await _stage.PassAsync(300);

        var plain = (await InputAsync(1))["advice"]!;
        Assert.Equal(("trim-at-its-end", "the source"), (plain["kind"]!.GetValue<string>(), plain["stage"]!.GetValue<string>()));
        Assert.Null((await InputAsync(2))["advice"]);

        var told = await PutAsync(Chain);
        Assert.Equal(["booster", "preamp"], told["stages"]!.AsArray().Select(name => name!.GetValue<string>()));
        var advice = (await InputAsync(1))["advice"]!;
        Assert.Equal("booster", advice["stage"]!.GetValue<string>());
        Assert.InRange(advice["byDb"]!.GetValue<double>(), 1, 20);
        Assert.StartsWith("Turn booster up by about", advice["text"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("the trim stands at 58 dB of 0 to 60 dB", advice["evidence"]!.AsArray().Select(line => line!.GetValue<string>()));
        Assert.Empty(_stage.Desk.Writes);

        (await _stage.Http.DeleteAsync("api/desks/bench/inputs/1/chain", TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();
        Assert.Equal("the source", (await InputAsync(1))["advice"]!["stage"]!.GetValue<string>());
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/desks/bench/inputs/1/chain", TestContext.Current.CancellationToken), 404, "not-found");
    }

    [Fact]
    public async Task A_chain_may_be_one_acts_and_counts_while_that_act_is_on()
    {
        await ApiStage.ProblemAsync(await SendAsync(Chain, "?act=Kites"), 404, "not-found");
        var added = await AddListAsync();
        Assert.Contains("put the chain to inputs/1/chain", Assert.Single(added["problems"]!.AsArray())!["text"]!.GetValue<string>(), StringComparison.Ordinal);

        await PutAsync(Chain, "?act=Kites");
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/desks/bench/inputs/1/chain", TestContext.Current.CancellationToken), 404, "not-found");
        Assert.Equal(["booster", "preamp"], await StagesAsync(1, "?act=Kites"));
        await _stage.PostAsync("api/desks/bench/acts/Kites/begin");

        Assert.Equal(["booster", "preamp"], await StagesAsync(1));
    }

    [Fact]
    public async Task A_chain_of_an_act_that_is_in_no_running_order_any_more_can_still_be_forgotten()
    {
        await AddListAsync();
        await PutAsync(Chain, "?act=Kites");
        Assert.Equal(System.Net.HttpStatusCode.NoContent, (await _stage.Http.DeleteAsync("api/desks/bench/inputs/1/chain?act=Owls", TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(["booster", "preamp"], await StagesAsync(1, "?act=Kites"));
        (await _stage.Http.DeleteAsync("api/desks/bench/inputs/1/chain?act=Kites", TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/desks/bench/inputs/1/chain?act=Kites", TestContext.Current.CancellationToken), 404, "not-found");
    }

    [Fact]
    public async Task Chains_that_were_told_are_there_after_a_restart_and_forgotten_ones_are_not()
    {
        await AddListAsync();
        await PutAsync(Chain);
        await PutAsync(Chain.Replace("booster", "amplifier", StringComparison.Ordinal), "?act=Kites");
        await PutAsync(Chain, input: 2);
        (await _stage.Http.DeleteAsync("api/desks/bench/inputs/2/chain", TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();

        await _stage.StopAsync();
        await _stage.StartAsync();

        Assert.Equal(["booster", "preamp"], await StagesAsync(1));
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/desks/bench/inputs/2/chain", TestContext.Current.CancellationToken), 404, "not-found");
        await _stage.PostAsync("api/desks/bench/acts/Kites/begin");
        Assert.Equal(["amplifier", "preamp"], await StagesAsync(1));
    }

    [Fact]
    public async Task A_chain_that_cannot_be_written_down_is_refused_and_so_is_forgetting_one()
    {
        await PutAsync(Chain);
        var database = Path.Combine(_stage.DataFolder, "journal.db");
        File.Move(database, database + ".away");

        await ApiStage.ProblemAsync(await SendAsync(Chain, input: 2), 503, "journal-unavailable");
        await ApiStage.ProblemAsync(await _stage.Http.DeleteAsync("api/desks/bench/inputs/1/chain", TestContext.Current.CancellationToken), 503, "journal-unavailable");

        Assert.Equal(["booster", "preamp"], await StagesAsync(1));
        await ApiStage.ProblemAsync(await _stage.Http.GetAsync("api/desks/bench/inputs/2/chain", TestContext.Current.CancellationToken), 404, "not-found");
    }

    [Fact]
    public async Task A_chain_that_cannot_be_read_is_refused_with_line_and_key_and_one_whose_limits_collide_is_taken_and_told()
    {
        var problem = await ApiStage.ProblemAsync(await SendAsync(Chain.Replace("gain_db = [0, 20]", "gain_db = [20, 0]", StringComparison.Ordinal)), 400, "bad-chain");
        Assert.Contains("gain_db", problem["detail"]!.GetValue<string>(), StringComparison.Ordinal);
        await ApiStage.ProblemAsync(await SendAsync(Chain + "\ndesk_trim = true"), 400, "bad-chain");
        await ApiStage.ProblemAsync(await SendAsync(Chain, input: 99), 404, "not-found");

        var told = await PutAsync(Chain.Replace("max_out_dbu = 10.0", "max_out_dbu = -60.0", StringComparison.Ordinal));
        Assert.StartsWith("no setting keeps every limit", Assert.Single(told["problems"]!.AsArray())!.GetValue<string>(), StringComparison.Ordinal);
        _stage.Desk.Turn(1, "gain", 58);
        _stage.Desk.Play(1, -40);
        await _stage.PassAsync(300);
        Assert.Equal("the source", (await InputAsync(1))["advice"]!["stage"]!.GetValue<string>());
    }

    [Fact]
    public async Task A_check_may_aim_to_even_the_faders_and_tells_how_far_the_loud_passages_lie_apart()
    {
        _stage.Desk.Turn(1, "gain", 20);
        var check = await _stage.PostAsync("api/desks/bench/checks", """{"inputs":[1,2],"aim":"even-faders"}""");
        _stage.Desk.Play(1, -20);
        _stage.Desk.Play(2, -30);
        await _stage.PassAsync(280);

        var finished = await _stage.PostAsync($"api/checks/{check["id"]}/finish");

        Assert.Equal("even-faders", finished["aim"]!.GetValue<string>());
        var spread = finished["loudPassageSpread"]!;
        Assert.InRange(spread["nowDb"]!.GetValue<double>(), 8, 12);
        Assert.InRange(spread["proposedDb"]!.GetValue<double>(), 0, 2);
        await ApiStage.ProblemAsync(await _stage.SendAsync("api/desks/bench/checks", """{"aim":"loud"}"""), 400, "bad-request");
    }

    private async Task<JsonNode> InputAsync(int input) => (await _stage.GetAsync("api/desks/bench/inputs"))[input - 1]!;

    private async Task<IEnumerable<string>> StagesAsync(int input, string of = "") =>
        (await _stage.GetAsync($"api/desks/bench/inputs/{input}/chain{of}"))["stages"]!.AsArray().Select(stage => stage!.GetValue<string>());

    private async Task<JsonNode> AddListAsync()
    {
        using var list = new StringContent("# act: Kites\ninput,chain\n1,bass.toml\n", Encoding.UTF8, "text/csv");
        using var answer = await _stage.Http.PostAsync("api/desks/bench/acts", list, TestContext.Current.CancellationToken);
        return JsonNode.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken))!;
    }

    private async Task<HttpResponseMessage> SendAsync(string chain, string query = "", int input = 1)
    {
        using var body = new StringContent(chain, Encoding.UTF8, "application/toml");
        return await _stage.Http.PutAsync($"api/desks/bench/inputs/{input}/chain{query}", body, TestContext.Current.CancellationToken);
    }

    private async Task<JsonNode> PutAsync(string chain, string query = "", int input = 1)
    {
        using var answer = await SendAsync(chain, query, input);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }
}
