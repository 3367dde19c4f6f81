using System.Net;
using System.Text.Json.Nodes;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>The gate as it is met over HTTP: what is answered, and what the desk gets to see.</summary>
public sealed class ConfirmTests : IAsyncLifetime
{
    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task The_confirmed_value_is_sent_once_read_back_and_the_same_words_again_send_nothing()
    {
        var proposal = await _stage.ProposalAsync();
        Assert.Empty(_stage.Desk.Writes);

        var confirmed = await _stage.ConfirmAsync(proposal);
        Assert.Contains(State(confirmed), new[] { "confirmed", "applied" });
        await _stage.BecomesAsync(proposal, "applied");
        Assert.Equal("applied", State(await _stage.ConfirmAsync(proposal)));

        Assert.Equal([$"/bench/1/gain {proposal["to"]}"], _stage.Desk.Writes);
    }

    [Fact]
    public async Task Many_identical_confirmations_at_once_are_all_answered_and_one_is_sent()
    {
        var proposal = await _stage.ProposalAsync();

        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => _stage.ConfirmAsync(proposal)));

        Assert.All(answers, answer => Assert.Contains(State(answer), new[] { "confirmed", "applied" }));
        await _stage.BecomesAsync(proposal, "applied");
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task A_wrong_digest_is_refused_and_does_not_spend_the_proposal()
    {
        var proposal = await _stage.ProposalAsync();

        await RefusedAsync(proposal, """{"digest":"0000"}""", "digest-mismatch");
        await ApiStage.ProblemAsync(await _stage.SendAsync(Confirm(proposal), "{}"), 400, "digest-missing");

        Assert.Empty(_stage.Desk.Writes);
        await _stage.ConfirmAsync(proposal);
        await _stage.BecomesAsync(proposal, "applied");
    }

    [Theory]
    [InlineData("[]")]
    [InlineData("""["shared-preamp"]""")]
    [InlineData("""["open-increase","shared-preamp"]""")]
    [InlineData("""["open-increase","please"]""")]
    public async Task A_confirmation_must_name_exactly_the_dangers(string words)
    {
        var proposal = await _stage.ProposalAsync(2, -40);
        Assert.Equal("""["open-increase"]""", proposal["needs"]!.ToJsonString());

        await RefusedAsync(proposal, $$"""{"digest":"{{proposal["digest"]}}","acknowledge":{{words}}}""", "acknowledge-needed");

        Assert.Empty(_stage.Desk.Writes);
        await _stage.ConfirmAsync(proposal);
    }

    [Fact]
    public async Task Two_inputs_on_one_socket_are_a_danger_to_be_named_and_said_to_be_affected()
    {
        var proposal = await _stage.ProposalAsync(7);

        Assert.Equal("""["shared-preamp"]""", proposal["needs"]!.ToJsonString());
        Assert.Contains("input 8", proposal["affects"]!.AsArray().Select(word => word!.GetValue<string>()));
    }

    [Fact]
    public async Task A_declined_proposal_is_not_open_and_declining_again_says_so()
    {
        var proposal = await _stage.ProposalAsync();

        Assert.Equal("declined", State(await _stage.PostAsync($"api/proposals/{proposal["id"]}/decline", status: 200)));
        await RefusedAsync(proposal, Words(proposal), "not-open");

        Assert.Empty(_stage.Desk.Writes);
    }

    [Fact]
    public async Task After_fifteen_minutes_it_has_expired_whatever_else_is_wrong()
    {
        var proposal = await _stage.ProposalAsync(2, -40);
        Assert.Equal(TimeSpan.FromMinutes(15), proposal["expiresAt"]!.GetValue<DateTimeOffset>() - proposal["createdAt"]!.GetValue<DateTimeOffset>());

        // The desk is silent by then, the digest wrong, the dangers unnamed: the first reason in the order is the answer.
        await _stage.WaitAsync(TimeSpan.FromMinutes(15));
        await RefusedAsync(proposal, """{"digest":"0000"}""", "expired");

        Assert.Equal("expired", State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")));
        Assert.Empty(_stage.Desk.Writes);
    }

    [Fact]
    public async Task The_digest_comes_before_the_dangers_and_both_before_the_link()
    {
        var proposal = await _stage.ProposalAsync(2, -40);
        await _stage.WaitAsync(TimeSpan.FromSeconds(2));

        await RefusedAsync(proposal, """{"digest":"0000"}""", "digest-mismatch");
        await RefusedAsync(proposal, $$"""{"digest":"{{proposal["digest"]}}"}""", "acknowledge-needed");
        await RefusedAsync(proposal, Words(proposal), "desk-not-live");

        Assert.Equal("open", State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")));
        Assert.Empty(_stage.Desk.Writes);
    }

    [Fact]
    public async Task A_value_moved_in_secret_is_found_by_reading_again_and_nothing_is_sent()
    {
        var proposal = await _stage.ProposalAsync();
        _stage.Desk.Turn(1, "gain", 27, told: false);

        await RefusedAsync(proposal, Words(proposal), "value-moved");

        Assert.Equal("superseded", State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")));
        Assert.Empty(_stage.Desk.Writes);
    }

    [Fact]
    public async Task A_value_moved_for_all_to_see_closes_the_proposal_at_once()
    {
        var proposal = await _stage.ProposalAsync();
        _stage.Desk.Turn(1, "gain", 27);
        await _stage.BecomesAsync(proposal, "superseded");

        await RefusedAsync(proposal, Words(proposal), "not-open");
    }

    [Fact]
    public async Task A_desk_that_keeps_its_own_value_makes_it_failed_and_says_what_the_desk_has()
    {
        var proposal = await _stage.ProposalAsync();
        _stage.Desk.TakesWrites = false;

        await _stage.ConfirmAsync(proposal);
        await _stage.BecomesAsync(proposal, "failed");

        Assert.Contains("30", (await _stage.GetAsync($"api/proposals/{proposal["id"]}"))["outcome"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_never_answers_makes_it_unknown_and_it_is_not_sent_again()
    {
        var proposal = await _stage.ProposalAsync();
        _stage.Desk.FallsSilentAtWrite = true;

        var confirming = _stage.ConfirmAsync(proposal);
        await ApiStage.UntilAsync(async () =>
        {
            await _stage.PassAsync(1);
            return confirming.IsCompleted;
        });
        await confirming;
        await ApiStage.UntilAsync(async () =>
        {
            await _stage.PassAsync(1);
            return State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")) == "unknown";
        });

        Assert.Equal("unknown", State(await _stage.ConfirmAsync(proposal)));
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_used_to_answer_and_does_not_now_is_sent_nothing_until_it_does()
    {
        var proposal = await _stage.ProposalAsync();
        _stage.Desk.Answers = false;
        _stage.Desk.Turn(1, "gain", 55, told: false);

        var confirming = _stage.SendAsync(Confirm(proposal), Words(proposal));
        await ApiStage.UntilAsync(async () =>
        {
            await _stage.PassAsync(1);
            return confirming.IsCompleted;
        });
        await ApiStage.ProblemAsync(await confirming, 409, "desk-not-live");
        Assert.Equal("open", State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")));
        Assert.Empty(_stage.Desk.Writes);

        _stage.Desk.Turn(1, "gain", (float)proposal["from"]!.GetValue<double>(), told: false);
        _stage.Desk.Answers = true;
        await _stage.ConfirmAsync(proposal);
        await _stage.BecomesAsync(proposal, "applied");
    }

    [Fact]
    public async Task A_mute_is_sent_all_the_same_to_a_desk_that_used_to_answer_and_does_not_now()
    {
        await _stage.CheckAsync((1, -5));
        _stage.Desk.Answers = false;
        var patch = await _stage.PostAsync("api/desks/bench/inputs/3/patch", "{}");
        var mute = await _stage.GetAsync($"api/proposals/{patch["proposalId"]}");

        var confirming = _stage.SendAsync(Confirm(mute), Words(mute));
        await ApiStage.UntilAsync(async () =>
        {
            await _stage.PassAsync(1);
            return confirming.IsCompleted;
        });

        Assert.Equal(HttpStatusCode.OK, (await confirming).StatusCode);
        await _stage.BecomesAsync(mute, "unknown");
        Assert.Single(_stage.Desk.Writes);
        Assert.Single(_stage.Desk.WritesTo(3));
    }

    [Fact]
    public async Task A_confirmation_that_cannot_be_written_down_is_refused_and_the_proposal_stays_open()
    {
        var proposal = await _stage.ProposalAsync();
        var journal = Path.Combine(_stage.DataFolder, "journal.db");
        File.Move(journal, journal + ".away");

        await ApiStage.ProblemAsync(await _stage.SendAsync(Confirm(proposal), Words(proposal)), 503, "journal-unavailable");

        Assert.Empty(_stage.Desk.Writes);
        Assert.Equal("open", State(await _stage.GetAsync($"api/proposals/{proposal["id"]}")));
        Assert.False((await _stage.GetAsync("api/health"))["journalWritable"]!.GetValue<bool>());
        File.Move(journal + ".away", journal);
        await _stage.ConfirmAsync(proposal);
        await _stage.BecomesAsync(proposal, "applied");
    }

    [Fact]
    public async Task After_a_restart_what_was_open_has_expired_and_what_was_applied_still_is()
    {
        var applied = await _stage.ProposalAsync();
        await _stage.ConfirmAsync(applied);
        await _stage.BecomesAsync(applied, "applied");
        var open = await _stage.ProposalAsync(3);

        await _stage.StopAsync();
        await _stage.StartAsync();
        await _stage.ComeLiveAsync();

        Assert.Equal("applied", State(await _stage.GetAsync($"api/proposals/{applied["id"]}")));
        await RefusedAsync(open, Words(open), "expired");
        Assert.Single(_stage.Desk.Writes);
    }

    private static string State(JsonNode proposal) => proposal["state"]!.GetValue<string>();

    private static string Confirm(JsonNode proposal) => $"api/proposals/{proposal["id"]}/confirm";

    private static string Words(JsonNode proposal) => $$"""{"digest":"{{proposal["digest"]}}","acknowledge":{{proposal["needs"]!.ToJsonString()}}}""";

    private async Task RefusedAsync(JsonNode proposal, string body, string code) =>
        await ApiStage.ProblemAsync(await _stage.SendAsync(Confirm(proposal), body), 409, code);
}
