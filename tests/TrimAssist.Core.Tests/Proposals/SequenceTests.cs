using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Proposals;

public sealed class SequenceTests
{
    private readonly GateBench _bench = new();

    public SequenceTests() => _bench.Set(1, one => one with { Muted = false, PadOn = true, Trim = new Decibels(58) });

    [Fact]
    public void The_next_step_opens_only_when_the_step_before_was_read_back()
    {
        var mute = Begin();
        Assert.Single(_bench.Book.Open);
        var confirmed = _bench.Confirm(GateBench.Naming(mute));
        Assert.NotNull(confirmed.Change);
        Assert.Empty(_bench.Book.Open);

        var next = End(mute, WriteResult.Applied, one => one with { Muted = true });

        Assert.Equal((ProposalKind.Trim, 2, 5, mute.SequenceId), (next!.Kind, next.Step, next.Steps, next.SequenceId));
    }

    [Theory]
    [InlineData(WriteResult.Failed)]
    [InlineData(WriteResult.Unknown)]
    [InlineData(WriteResult.NotSent)]
    public void A_step_that_did_not_take_closes_the_rest(WriteResult result)
    {
        var mute = Begin();
        _bench.Confirm(GateBench.Naming(mute));

        Assert.Null(End(mute, result, one => one));
        Assert.Empty(_bench.Book.Open);
    }

    [Fact]
    public void The_whole_sequence_ends_with_an_unmute()
    {
        var kinds = new List<ProposalKind>();
        for (var step = Begin(); step is not null;)
        {
            kinds.Add(step.Kind);
            Assert.NotNull(_bench.Confirm(GateBench.Naming(step, [.. step.Needs])).Change);
            var now = step;
            step = End(now, WriteResult.Applied, one => now.Kind switch
            {
                ProposalKind.Trim => one with { Trim = new Decibels(now.To.Db!.Value) },
                ProposalKind.Pad => one with { PadOn = now.To.On },
                _ => one with { Muted = now.To.On },
            });
        }

        Assert.Equal([ProposalKind.Mute, ProposalKind.Trim, ProposalKind.Pad, ProposalKind.Trim, ProposalKind.Unmute], kinds);
        Assert.Equal((false, false, 40.0), (_bench.Settings(1).Muted, _bench.Settings(1).PadOn, _bench.Settings(1).Trim!.Value.Value));
    }

    [Fact]
    public void A_step_that_the_desk_fulfils_within_its_tolerance_is_left_out()
    {
        PlannedStep[] steps = [new(ProposalKind.Trim, SettingValue.Gain(58.3), Saying.Plain("nearly there")), new(ProposalKind.Pad, SettingValue.Switch(false), Saying.Plain("pad out"))];

        var first = _bench.Proposals.Propose(new([1], steps, null, new()), _bench.Now, ProposalLife.Trim)!;

        Assert.Equal((ProposalKind.Pad, 2, 2), (first.Kind, first.Step, first.Steps));
    }

    [Fact]
    public void A_lone_proposal_that_ends_says_nothing_of_a_sequence_and_a_step_does()
    {
        var lone = _bench.ProposeTrim(50);
        _bench.Proposals.Follow(_bench.Book.Move(lone.Id, ProposalState.Declined, Saying.Plain("No.")), _bench.Now);
        var step = Begin();
        _bench.Proposals.Follow(_bench.Book.Move(step.Id, ProposalState.Declined, Saying.Plain("No.")), _bench.Now);

        Assert.Equal("No.", _bench.Book.Find(lone.Id)!.Outcome);
        Assert.Equal("No. The rest of the sequence is closed; the desk is left at 58 dB of trim, pad in, open.", _bench.Book.Find(step.Id)!.Outcome);
    }

    [Fact]
    public void What_the_desk_has_not_told_is_not_said_of_where_it_is_left()
    {
        var step = Begin();
        _bench.Set(1, one => one with { PadOn = false, Trim = null, Muted = null });
        _bench.Proposals.Follow(_bench.Book.Move(step.Id, ProposalState.Declined, null), _bench.Now);

        Assert.EndsWith("the desk is left at pad out, mute unknown.", _bench.Book.Find(step.Id)!.Outcome, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sequence_is_not_closed_while_its_step_is_open_or_on_its_way()
    {
        var mute = Begin();
        _bench.Proposals.CloseEnded(_bench.Now);
        Assert.Null(_bench.Proposals.Follow(_bench.Book.Find(mute.Id)!, _bench.Now));
        _bench.Confirm(GateBench.Naming(mute));
        _bench.Proposals.CloseEnded(_bench.Now);
        Assert.Null(_bench.Proposals.Follow(_bench.Book.Find(mute.Id)!, _bench.Now));

        Assert.Equal(ProposalKind.Trim, End(mute, WriteResult.Applied, one => one with { Muted = true })?.Kind);
    }

    [Fact]
    public void Whom_a_change_reaches_stands_on_it()
    {
        var bench = new GateBench(["monitors"], covers: ["main", "direct"]);
        bench.Set(1, one => one with { Muted = false, Socket = "A1" });
        bench.Set(3, one => one with { Socket = "A1" });
        bench.Set(4, one => one with { Socket = "A2" });
        Proposal Make(ProposalKind kind, SettingValue to) => bench.Proposals.Propose(new([1], [new(kind, to, Saying.Plain("because"))], null, new()), bench.Now, ProposalLife.Trim)!;

        Assert.Equal(["every send fed by this preamp", "monitors", "input 3"], Make(ProposalKind.Trim, SettingValue.Gain(14)).Affects.Select(one => one.ToString()));
        Assert.Equal(["every send fed by this preamp", "monitors", "input 3"], Make(ProposalKind.Pad, SettingValue.Switch(true)).Affects.Select(one => one.ToString()));
        Assert.Equal(["main", "direct"], Make(ProposalKind.Mute, SettingValue.Switch(true)).Affects.Select(one => one.ToString()));
    }

    [Fact]
    public void Allowing_rises_again_takes_none_back()
    {
        _bench.Set(2, one => one with { Trim = new Decibels(10) });
        var rise = _bench.ProposeTrim(14, input: 2);
        _bench.Proposals.MayRaise(true, _bench.Now);

        Assert.True(_bench.Book.Find(rise.Id)!.IsOpen);
    }

    [Fact]
    public void The_show_takes_no_mute_back()
    {
        var mute = Begin();
        _bench.Proposals.MayRaise(false, _bench.Now);

        Assert.True(_bench.Book.Find(mute.Id)!.IsOpen);
    }

    [Fact]
    public void An_empty_plan_proposes_nothing() =>
        Assert.Null(_bench.Proposals.Propose(new([1], [], Saying.Plain("advice"), new()), _bench.Now, ProposalLife.Trim));

    [Fact]
    public void A_newer_proposal_for_the_same_control_takes_the_place_of_the_older()
    {
        var older = _bench.ProposeTrim(14, input: 2);
        var newer = _bench.ProposeTrim(13, input: 2);

        Assert.Equal(ProposalState.Superseded, _bench.Book.Find(older.Id)!.State);
        Assert.Equal([newer.Id], _bench.Book.Open.Select(open => open.Id));
    }

    [Fact]
    public void A_mute_does_not_take_the_place_of_a_trim()
    {
        var trim = _bench.ProposeTrim(14, input: 2);
        _bench.Set(2, one => one with { Muted = false });
        _bench.Proposals.Propose(new([2], [new(ProposalKind.Mute, SettingValue.Switch(true), Saying.Plain("pop"))], null, new()), _bench.Now, ProposalLife.PopMute);

        Assert.True(_bench.Book.Find(trim.Id)!.IsOpen);
    }

    [Fact]
    public void A_control_that_the_desk_has_not_told_is_not_proposed()
    {
        _bench.Set(2, one => one with { Muted = null });

        Assert.Null(_bench.Proposals.Propose(new([2], [new(ProposalKind.Mute, SettingValue.Switch(true), Saying.Plain("pop"))], null, new()), _bench.Now, ProposalLife.PopMute));
    }

    [Fact]
    public void Inputs_on_one_socket_share_the_danger_and_are_named()
    {
        _bench.Set(2, one => one with { Socket = "A1" });
        _bench.Set(3, one => one with { Socket = "A1" });
        var proposal = _bench.ProposeTrim(14, input: 2);

        Assert.Contains(Dangers.SharedPreamp, proposal.Needs);
        Assert.Contains(Saying.Plain("input 3"), proposal.Affects);
    }

    [Fact]
    public void A_preamp_shared_with_monitors_carries_the_danger_on_every_trim()
    {
        var shared = new GateBench(["monitors"]);

        Assert.Equal([Dangers.SharedPreamp], shared.ProposeTrim(14).Needs);
    }

    [Theory]
    [InlineData(26, false)]
    [InlineData(27, true)]
    public void More_than_six_dB_up_on_an_open_input_is_a_danger(double to, bool danger)
    {
        _bench.Set(2, one => one with { Muted = false, FaderDb = null });

        Assert.Equal(danger, _bench.ProposeTrim(to, input: 2).Needs.Contains(Dangers.OpenIncrease));
    }

    [Fact]
    public void A_fader_that_is_down_makes_a_big_increase_safe()
    {
        _bench.Set(2, one => one with { Muted = false, FaderDb = -90 });

        Assert.Empty(_bench.ProposeTrim(40, input: 2).Needs);
    }

    private Proposal Begin()
    {
        var now = _bench.Settings(1);
        var steps = PadSteps.Out(40, _bench.Desk.Pad!, _bench.Desk.Trim!, now);
        return _bench.Proposals.Propose(new([1], steps, null, new()), _bench.Now, ProposalLife.Trim)!;
    }

    private Proposal? End(Proposal step, WriteResult result, Func<InputSettings, InputSettings> desk)
    {
        _bench.Set(1, desk);
        return _bench.Proposals.Follow(_bench.Gate.Settle(step.Id, new(result, null, Saying.Plain("so"))), _bench.Now);
    }
}
