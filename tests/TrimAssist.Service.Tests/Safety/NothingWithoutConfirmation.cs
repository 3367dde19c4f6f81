using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>The promise on the wire: what reaches the desk, and what the engineer is told, when things go as they should and when they do not.</summary>
public sealed class NothingWithoutConfirmation
{
    [Fact]
    public async Task Two_hundred_confirmations_at_once_are_all_answered_and_make_exactly_one_write()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);

        var answers = await Task.WhenAll(Enumerable.Range(0, 200).Select(_ => bench.ConfirmAsync(proposal)));

        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.OK, answer.Status));
        await bench.StateAsync(proposal, "applied");
        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal)).Status);
        Assert.Equal(["/desk/1/gain 20"], bench.Desk.Writes);
    }

    [Fact]
    public async Task No_refusal_reaches_the_desk()
    {
        await using var bench = await ServiceBench.StartAsync();
        var danger = await bench.ProposeTrimAsync(45);
        var plain = await bench.ProposeTrimAsync(20, input: 2);

        await AssertRefusedAsync(bench.ConfirmAsync(danger), HttpStatusCode.Conflict, "acknowledge-needed");
        await AssertRefusedAsync(bench.ConfirmAsync(plain, ""","acknowledge":["open-increase"]"""), HttpStatusCode.Conflict, "acknowledge-needed");
        await AssertRefusedAsync(bench.ConfirmAsync(plain, ""","pictureAgeMs":2500"""), HttpStatusCode.Conflict, "picture-stale");
        await AssertRefusedAsync(bench.ConfirmAsync(plain, ""","pictureAgeMs":-1"""), HttpStatusCode.BadRequest, "bad-picture-age");
        await AssertRefusedAsync(bench.PostAsync($"proposals/{plain["id"]}/confirm", """{"digest":"0"}"""), HttpStatusCode.Conflict, "digest-mismatch");
        await AssertRefusedAsync(bench.PostAsync($"proposals/{plain["id"]}/confirm", "{}"), HttpStatusCode.BadRequest, "digest-missing");
        await AssertRefusedAsync(bench.PostAsync($"proposals/{Guid.NewGuid()}/confirm", """{"digest":"0"}"""), HttpStatusCode.NotFound, "not-found");
        await AssertRefusedAsync(bench.PostAsync($"proposals/{plain["id"]}/undo"), HttpStatusCode.Conflict, "not-applied");
        bench.Desk.Turn("/desk/2/gain", OscArgument.Of(41f));
        await AssertRefusedAsync(bench.ConfirmAsync(plain), HttpStatusCode.Conflict, "value-moved");
        await AssertRefusedAsync(bench.ConfirmAsync(plain), HttpStatusCode.Conflict, "not-open");
        bench.Desk.SendsMeters = false;
        await ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("desks/desk"))["state"]!.GetValue<string>() != "live", "never stale");
        await AssertRefusedAsync(bench.ConfirmAsync(danger, ""","acknowledge":["open-increase"]"""), HttpStatusCode.Conflict, "desk-not-live");

        Assert.Empty(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_ignores_the_change_makes_it_failed()
    {
        await using var bench = await ServiceBench.StartAsync();
        bench.Desk.Takes = static _ => null;

        await AssertEndsAsync(bench, "failed", "30.0 dB");
    }

    [Fact]
    public async Task A_desk_that_takes_another_value_makes_it_failed_and_says_which()
    {
        await using var bench = await ServiceBench.StartAsync();
        bench.Desk.Takes = static _ => OscArgument.Of(25f);

        await AssertEndsAsync(bench, "failed", "25.0 dB");
    }

    [Fact]
    public async Task A_desk_that_answers_a_second_late_is_waited_for()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        bench.Desk.AnswersAfter = TimeSpan.FromSeconds(1);
        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal)).Status);

        await bench.StateAsync(proposal, "applied");
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_answers_later_than_it_is_waited_for_is_unknown_until_then_and_nothing_is_sent_again()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        bench.Desk.Takes = value =>
        {
            bench.Desk.AnswersAfter = TimeSpan.FromSeconds(5);
            return value;
        };
        await bench.ConfirmAsync(proposal);

        await bench.StateAsync(proposal, "unknown");
        await bench.StateAsync(proposal, "applied");
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_hundred_right_and_a_hundred_wrong_confirmations_at_once_make_one_write_and_a_wrong_one_is_never_taken()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        var wrong = $$"""{"digest":"{{new string('0', 64)}}"}""";

        var answers = await Task.WhenAll(Enumerable.Range(0, 200).Select(async number => (
            IsRight: number % 2 == 0,
            (number % 2 == 0 ? await bench.ConfirmAsync(proposal) : await bench.PostAsync($"proposals/{proposal["id"]}/confirm", wrong)).Status)));

        Assert.All(answers, answer => Assert.Equal(answer.IsRight ? HttpStatusCode.OK : HttpStatusCode.Conflict, answer.Status));
        await bench.StateAsync(proposal, "applied");
        Assert.Equal(["/desk/1/gain 20"], bench.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_says_nothing_leaves_it_unknown_until_it_speaks_and_nothing_is_sent_again()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        bench.Desk.Takes = value => FallSilent(bench.Desk, value);
        await bench.ConfirmAsync(proposal);
        await bench.StateAsync(proposal, "unknown");

        bench.Desk.Answers = true;
        await bench.StateAsync(proposal, "applied");
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_took_nothing_and_said_nothing_is_failed_once_it_speaks()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        bench.Desk.Takes = _ => FallSilent(bench.Desk, null);
        await bench.ConfirmAsync(proposal);
        await bench.StateAsync(proposal, "unknown");

        bench.Desk.Answers = true;
        await bench.StateAsync(proposal, "failed");
        Assert.Single(bench.Desk.Writes);
    }

    [Theory]
    [InlineData(0, 200)]
    [InlineData(-2001, 409)]
    [InlineData(60_000, 409)]
    public async Task A_confirmation_is_as_old_as_the_stamp_of_its_picture_however_young_it_says_that_it_is(int stampedLater, int status)
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        using var shown = await bench.Http.GetAsync("proposals?state=open");
        var stamp = long.Parse(shown.Headers.GetValues("Picture").Single(), CultureInfo.InvariantCulture) + stampedLater;

        var answer = await bench.ConfirmAsync(proposal, string.Create(CultureInfo.InvariantCulture, $""","pictureAgeMs":0,"picture":{stamp}"""));

        Assert.Equal(status, (int)answer.Status);
        if (status != 200)
        {
            Assert.Equal("picture-stale", answer.Body!["code"]!.GetValue<string>());
            Assert.Empty(bench.Desk.Writes);
        }
    }

    [Fact]
    public async Task Every_answer_that_shows_proposals_carries_the_stamp_of_its_picture()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        var stamps = new List<long>();
        foreach (var path in new[] { "proposals", "proposals?state=open", $"proposals/{proposal["id"]}" })
        {
            using var answer = await bench.Http.GetAsync(path);
            stamps.Add(long.Parse(answer.Headers.GetValues("Picture").Single(), CultureInfo.InvariantCulture));
        }

        Assert.Equal(stamps.Order(), stamps);
        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal, string.Create(CultureInfo.InvariantCulture, $""","picture":{stamps[^1]}"""))).Status);
    }

    [Fact]
    public async Task Every_frame_of_meters_on_the_stream_carries_a_stamp_that_a_confirmation_may_name()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        using var stream = new StreamReader(await bench.Http.GetStreamAsync("events"));
        string? line;
        do
            line = await stream.ReadLineAsync();
        while (line is not null && !(line.StartsWith("data:", StringComparison.Ordinal) && line.Contains("peakDbfs", StringComparison.Ordinal)));

        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal, $""","picture":{JsonNode.Parse(line![5..])!["picture"]}""")).Status);
    }

    [Fact]
    public async Task Of_two_services_on_one_desk_each_sees_the_others_change_as_a_moved_value()
    {
        await using var time = new LockstepTime();
        await using var first = await ServiceBench.StartAsync(time);
        await using var second = await ServiceBench.StartAsync(time);
        var (mine, theirs) = (await first.ProposeTrimAsync(20), await second.ProposeTrimAsync(24));
        await first.ConfirmAsync(mine);
        await first.StateAsync(mine, "applied");

        var (status, answer) = await second.ConfirmAsync(theirs);

        Assert.Equal(HttpStatusCode.Conflict, status);
        Assert.Contains(answer!["code"]!.GetValue<string>(), new[] { "value-moved", "not-open" });
        Assert.Equal("superseded", (await second.GetAsync($"proposals/{theirs["id"]}"))["state"]!.GetValue<string>());
        Assert.Equal(["/desk/1/gain 20"], time.Desk.Writes);
        first.Folder.Delete(recursive: true);
        second.Folder.Delete(recursive: true);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public async Task A_wall_clock_that_jumps_an_hour_neither_expires_nor_revives_anything(int hours)
    {
        JumpingTime time = null!;
        await using var bench = await ServiceBench.StartAsync(with: options => options with { Time = time = new JumpingTime(options.Time) });
        var proposal = await bench.ProposeTrimAsync(20);
        time.WallClockOff = TimeSpan.FromHours(hours);

        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal)).Status);
        await bench.StateAsync(proposal, "applied");
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task Undo_is_a_new_proposal_that_reaches_the_desk_only_when_it_is_confirmed()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        await bench.ConfirmAsync(proposal);
        await bench.StateAsync(proposal, "applied");

        var (status, undo) = await bench.PostAsync($"proposals/{proposal["id"]}/undo");

        Assert.Equal((HttpStatusCode.Created, "open", 20.0, 30.0), (status, undo!["state"]!.GetValue<string>(), undo["from"]!.GetValue<double>(), undo["to"]!.GetValue<double>()));
        Assert.Single(bench.Desk.Writes);
        await bench.ConfirmAsync(undo, ""","acknowledge":["open-increase"]""");
        await bench.StateAsync(undo, "applied");
        Assert.Equal(["/desk/1/gain 20", "/desk/1/gain 30"], bench.Desk.Writes);
    }

    [Fact]
    public async Task Nothing_is_sent_again_after_a_restart()
    {
        var folder = Directory.CreateTempSubdirectory("trimassist-restart-");
        await using var time = new LockstepTime();
        JsonNode sent;
        JsonNode open;
        await using (var first = await ServiceBench.StartAsync(time, folder))
        {
            (sent, open) = (await first.ProposeTrimAsync(20), await first.ProposeTrimAsync(22, input: 2));
            time.Desk.Takes = value => FallSilent(time.Desk, value);
            await first.ConfirmAsync(sent);
            await first.StateAsync(sent, "unknown");
        }

        time.Desk.Answers = true;
        await using var second = await ServiceBench.StartAsync(time, folder);
        await second.StateAsync(sent, "applied");
        await second.StateAsync(open, "expired");
        Assert.Equal(HttpStatusCode.OK, (await second.ConfirmAsync(sent)).Status);
        await AssertRefusedAsync(second.ConfirmAsync(open), HttpStatusCode.Conflict, "expired");
        Assert.Single(time.Desk.Writes);
        folder.Delete(recursive: true);
    }

    // The change arrives, and from then on the desk says nothing any more.
    private static OscArgument? FallSilent(UnrulyDesk desk, OscArgument? taken)
    {
        desk.Answers = false;
        return taken;
    }

    private static async Task AssertEndsAsync(ServiceBench bench, string state, string told)
    {
        var proposal = await bench.ProposeTrimAsync(20);
        await bench.ConfirmAsync(proposal);
        var ended = await bench.StateAsync(proposal, state);
        Assert.Contains(told, ended["outcome"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Single(bench.Desk.Writes);
    }

    private static async Task AssertRefusedAsync(Task<(HttpStatusCode Status, JsonNode? Body)> asked, HttpStatusCode status, string code)
    {
        var answer = await asked;
        Assert.Equal((status, code), (answer.Status, answer.Body!["code"]!.GetValue<string>()));
    }
}
