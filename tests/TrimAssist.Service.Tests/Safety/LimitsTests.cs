using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>Where the promise ends, as docs/safety.md says it: a limit that no longer holds is news for whoever relies on the page.</summary>
public sealed class LimitsTests
{
    private const string Gain = "/desk/1/gain";

    [Fact]
    public async Task What_a_desk_said_before_it_was_away_is_built_upon_by_no_write()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        (bench.Desk.SendsMeters, bench.Desk.Answers) = (false, false);
        await BecomesAsync(bench, "lost");
        bench.Desk.SendsMeters = true;
        await BecomesAsync(bench, "live");

        var (status, answer) = await bench.ConfirmAsync(proposal);
        Assert.Equal((HttpStatusCode.Conflict, "desk-not-live"), (status, answer!["code"]!.GetValue<string>()));
        Assert.Empty(bench.Desk.Writes);

        bench.Desk.Answers = true;
        await ServiceBench.EventuallyAsync(async () => (await bench.ConfirmAsync(proposal)).Status == HttpStatusCode.OK, "never current again");
        await bench.StateAsync(proposal, "applied");
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_knob_turned_between_the_last_reading_and_the_change_is_overwritten_and_the_read_back_tells_what_the_desk_has_then()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        bench.Desk.Takes = value =>
        {
            bench.Desk.Turn(Gain, OscArgument.Of(41f), told: true);
            return value;
        };

        Assert.Equal(HttpStatusCode.OK, (await bench.ConfirmAsync(proposal)).Status);

        await bench.StateAsync(proposal, "applied");
        Assert.Equal(20, bench.Desk.Value(Gain));
        Assert.Single(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_desk_that_says_it_took_a_change_and_did_not_is_believed()
    {
        await using var bench = await ServiceBench.StartAsync();
        bench.Desk.Play(1, -20);
        var proposal = await bench.ProposeTrimAsync(20);

        // It says 20 from now on, and everything sounds as loud as before.
        await bench.ConfirmAsync(proposal);

        await bench.StateAsync(proposal, "applied");
        Assert.Equal(20, (await bench.GetAsync("desks/desk/inputs"))[0]!["trimDb"]!.GetValue<double>());
    }

    [Fact]
    public async Task A_word_forged_under_the_desks_own_address_is_believed_and_makes_no_write()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        using var stranger = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        stranger.SendTo(new OscMessage(Gain, OscArgument.Of(41f)).Encode(), Assert.Single(bench.Desk.Followers));

        await bench.StateAsync(proposal, "superseded");
        Assert.Empty(bench.Desk.Writes);
    }

    [Fact]
    public async Task A_change_that_others_make_at_the_desk_is_seen_and_hindered_by_nobody()
    {
        await using var bench = await ServiceBench.StartAsync();
        bench.Desk.Turn(Gain, OscArgument.Of(55f), told: true);

        await ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("desks/desk/inputs"))[0]!["trimDb"]!.GetValue<double>() == 55, "never seen");
        Assert.Empty(bench.Desk.Writes);
        Assert.Equal(55, bench.Desk.Value(Gain));
    }

    private static Task BecomesAsync(ServiceBench bench, string state) =>
        ServiceBench.EventuallyAsync(async () => (await bench.GetAsync("desks/desk"))["state"]!.GetValue<string>() == state, $"never {state}");
}
