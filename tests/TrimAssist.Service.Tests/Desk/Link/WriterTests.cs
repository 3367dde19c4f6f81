using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>The one writer: one packet for each input, the desk's own word, and every way in which that word may fail to come.</summary>
public sealed class WriterTests
{
    private static readonly string[] Base = [LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Mute];

    [Fact]
    public void A_change_is_sent_once_and_read_back_from_the_echo_of_the_same_instant()
    {
        using var bench = Live(Base);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Turn();
        Assert.False(writing.IsCompleted);
        bench.Say("/t/1/gain", OscArgument.Of(24f));
        bench.Turn();
        Assert.Equal((WriteResult.Applied, 24.0), (Result(writing), SessionBench.Done(writing).ReadBack!.Value.Db));
        Assert.Equal([new OscMessage("/t/1/gain", OscArgument.Of(24f))], bench.Desk.WritesTo("/t/1/gain"));
    }

    [Fact]
    public void What_the_desk_said_before_the_change_never_verifies_it()
    {
        using var bench = Live(Base);
        bench.Say("/t/1/gain", OscArgument.Of(24f));
        bench.Say("/t/1/gain", OscArgument.Of(30f));
        var change = bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1);

        // It waits in the socket when the change is sent: the desk cannot have known of the change.
        var writing = bench.Write(change);
        bench.Play(4);
        Assert.Equal(WriteResult.Unknown, Result(writing));
    }

    [Fact]
    public void Without_an_answer_the_desk_is_asked_and_after_three_seconds_nobody_knows()
    {
        using var bench = Live(Base);
        bench.Desk.Heard.Clear();
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Play(2.9);
        Assert.False(writing.IsCompleted);
        bench.Play(0.3);
        Assert.Equal(WriteResult.Unknown, Result(writing));
        Assert.Single(bench.Desk.WritesTo("/t/1/gain"));
        Assert.InRange(bench.Desk.HeardAt("/t/1/gain").Count, 4, 10);
    }

    [Fact]
    public void A_lost_echo_is_made_up_for_by_asking()
    {
        using var bench = Live(Base);
        bench.Desk.Answer = message =>
        {
            if (message is { Address: "/t/1/gain", Arguments.Count: 0 })
                bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(24f)));
        };
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Play(0.5);
        Assert.Equal(WriteResult.Applied, Result(writing));
    }

    [Fact]
    public void Another_value_read_back_is_a_failure_that_names_it()
    {
        using var bench = Live(Base);
        bench.Desk.Answer = message => Echo(bench, message, 27f);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Play(2);
        Assert.Equal(WriteResult.Failed, Result(writing));
        Assert.Contains("27.0 dB", SessionBench.Done(writing).Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void An_old_answer_on_its_way_does_not_make_a_failure_of_a_change_that_was_taken()
    {
        using var bench = Live(Base);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Say("/t/1/gain", OscArgument.Of(30f));
        bench.Play(0.4);
        bench.Say("/t/1/gain", OscArgument.Of(24f));
        bench.Turn();
        Assert.Equal(WriteResult.Applied, Result(writing));
    }

    [Fact]
    public void Where_only_an_answer_to_a_question_counts_an_echo_proves_nothing()
    {
        using var bench = Live(LinkProfiles.Peaks, LinkProfiles.Trim + "\nverify = \"query\"");
        bench.Desk.Answer = message =>
        {
            var taken = message.Arguments.Count == 0 ? 30f : (float)message.Arguments[0].Number!.Value;
            bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(taken)));
        };
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Play(2);
        Assert.Equal(WriteResult.Failed, Result(writing));
    }

    [Fact]
    public void Where_an_answer_to_a_question_counts_it_verifies()
    {
        using var bench = Live(LinkProfiles.Peaks, LinkProfiles.Trim + "\nverify = \"query\"");
        var gain = 30f;
        bench.Desk.Answer = message =>
        {
            if (message.Arguments.Count > 0)
                gain = (float)message.Arguments[0].Number!.Value;
            else
                bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(gain)));
        };
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        bench.Play(0.5);
        Assert.Equal(WriteResult.Applied, Result(writing));
    }

    [Fact]
    public void Both_halves_of_a_pair_are_written_and_both_are_read_back()
    {
        using var bench = Live(Base);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1, 2));
        bench.Say("/t/1/gain", OscArgument.Of(24f));
        Assert.False(writing.IsCompleted);
        bench.Say("/t/2/gain", OscArgument.Of(24f));
        bench.Turn();
        Assert.Equal(WriteResult.Applied, Result(writing));
        Assert.Equal((1, 1), (bench.Desk.WritesTo("/t/1/gain").Count, bench.Desk.WritesTo("/t/2/gain").Count));
    }

    [Fact]
    public void A_pair_of_which_one_half_stays_silent_is_unknown()
    {
        using var bench = Live(Base);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1, 2));
        bench.Say("/t/1/gain", OscArgument.Of(24f));
        bench.Play(3.2);
        Assert.Equal(WriteResult.Unknown, Result(writing));
    }

    [Fact]
    public void Two_inputs_on_one_socket_are_written_once_and_told_together()
    {
        const string GainOfSocket = """
            [controls.trim]
            address = "/s/{socket}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            """;
        using var bench = new SessionBench(LinkProfiles.Peaks, GainOfSocket, LinkProfiles.Source);
        bench.Say("/t/1/plug", OscArgument.Of(9));
        bench.Say("/t/2/plug", OscArgument.Of(9));
        bench.Say("/s/9/gain", OscArgument.Of(30f));
        bench.Play(0.2);
        Assert.Equal(30, bench.Session.Settings(2).Trim!.Value.Value);
        var writing = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1, 2));
        bench.Say("/s/9/gain", OscArgument.Of(24f));
        bench.Turn();
        Assert.Equal(WriteResult.Applied, Result(writing));
        Assert.Single(bench.Desk.WritesTo("/s/9/gain"));
    }

    [Fact]
    public void A_repatched_input_forgets_its_gain_and_a_change_meant_for_the_old_socket_is_not_sent()
    {
        const string GainOfSocket = """
            [controls.trim]
            address = "/s/{socket}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            step_db = 1.0
            """;
        using var bench = new SessionBench(LinkProfiles.Peaks, GainOfSocket, LinkProfiles.Source);
        bench.Say("/t/1/plug", OscArgument.Of(9));
        bench.Say("/s/9/gain", OscArgument.Of(30f));
        bench.Play(0.2);
        var change = bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1);
        bench.Say("/t/1/plug", OscArgument.Of(5));
        Assert.Null(bench.Session.Settings(1).Trim);
        Assert.Equal(WriteResult.NotSent, Result(bench.Write(change)));
        Assert.DoesNotContain(bench.Desk.Heard, message => message.Arguments.Count > 0);
    }

    [Fact]
    public void Nothing_is_sent_on_a_link_that_is_not_live()
    {
        using var bench = Live(Base);
        var change = bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1);
        bench.Pass(0.7);
        AssertRefused(bench, change, "/t/1/gain");
    }

    [Fact]
    public void Nothing_is_sent_when_the_value_has_moved()
    {
        using var bench = Live(Base);
        var change = bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1);
        bench.Say("/t/1/gain", OscArgument.Of(31f));
        AssertRefused(bench, change, "/t/1/gain");
    }

    [Theory]
    [InlineData(60.5)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void No_value_outside_the_range_is_ever_sent(double gain)
    {
        using var bench = Live(Base);
        AssertRefused(bench, bench.Permit(ProposalKind.Trim, SettingValue.Gain(gain), 1), "/t/1/gain");
    }

    [Fact]
    public void A_value_too_fine_for_the_desks_type_is_not_sent_as_another()
    {
        using var bench = Live(LinkProfiles.Peaks, LinkProfiles.Trim + "\nvalue_type = \"int\"");
        AssertRefused(bench, bench.Permit(ProposalKind.Trim, SettingValue.Gain(24.5), 1), "/t/1/gain");
    }

    [Fact]
    public void A_control_that_the_profile_does_not_spell_out_is_never_written()
    {
        using var bench = Live(LinkProfiles.Peaks, "[controls.trim]\naddress = \"/t/{input}/gain\"\nunit = \"db\"");
        AssertRefused(bench, bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1), "/t/1/gain");
    }

    [Fact]
    public void A_second_change_of_a_control_waits_for_nobody_it_is_refused()
    {
        using var bench = Live(Base);
        var first = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(24), 1));
        var second = bench.Write(bench.Permit(ProposalKind.Trim, SettingValue.Gain(22), 1));
        bench.Turn();
        Assert.Equal(WriteResult.NotSent, Result(second));
        Assert.False(first.IsCompleted);
        Assert.Single(bench.Desk.WritesTo("/t/1/gain"));
    }

    [Fact]
    public void A_mute_is_sent_in_the_type_that_the_profile_gives_it()
    {
        using var bench = Live(LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Mute.Replace("on = 1", "on = false", StringComparison.Ordinal).Replace("off = 0", "off = true", StringComparison.Ordinal));
        bench.Say("/t/1/shut", OscArgument.Of(true));
        Assert.False(bench.Session.Settings(1).Muted);
        var writing = bench.Write(bench.Permit(ProposalKind.Mute, SettingValue.Switch(true), 1));
        bench.Turn();
        Assert.Equal([new OscMessage("/t/1/shut", OscArgument.Of(false))], bench.Desk.WritesTo("/t/1/shut"));
        bench.Say("/t/1/shut", OscArgument.Of(0));
        bench.Turn();
        Assert.Equal(WriteResult.Applied, Result(writing));
    }

    private static SessionBench Live(params string[] parts)
    {
        var bench = new SessionBench(parts);
        for (var input = 1; input <= 4; input++)
            bench.Say($"/t/{input}/gain", OscArgument.Of(30f));
        bench.Play(5.2);
        bench.Desk.Heard.Clear();
        Assert.Equal(LinkState.Live, bench.Session.Link);
        return bench;
    }

    private static void Echo(SessionBench bench, OscMessage message, float gain)
    {
        if (message.Address.EndsWith("gain", StringComparison.Ordinal))
            bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(gain)));
    }

    private static void AssertRefused(SessionBench bench, ConfirmedChange change, string address)
    {
        Assert.Equal(WriteResult.NotSent, Result(bench.Write(change)));
        bench.Turn();
        Assert.Empty(bench.Desk.WritesTo(address));
    }

    private static WriteResult Result(Task<WriteOutcome> writing) => SessionBench.Done(writing).Result;
}
