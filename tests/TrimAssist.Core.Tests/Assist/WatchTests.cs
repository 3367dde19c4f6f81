using CsCheck;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

public sealed class WatchTests
{
    private readonly AssistantBench _bench = new();

    [Fact]
    public void The_watch_takes_open_increases_back_and_leaves_decreases_open()
    {
        var rise = _bench.ProposeTrim(24);
        var fall = _bench.Propose(ProposalKind.Trim, Core.Desks.SettingValue.Gain(14), input: 2);
        _bench.Assistant.Watch(true, _bench.Now);

        Assert.Equal(ProposalState.Superseded, _bench.Find(rise).State);
        Assert.True(_bench.Find(fall).IsOpen);
    }

    [Fact]
    public void A_sequence_that_the_watch_overtakes_goes_on_without_its_increases_and_still_opens_what_it_muted()
    {
        _bench.Say(one => one with { Muted = false, Trim = new Decibels(58), PadOn = true });
        _bench.Apply(_bench.ProposePadOut(40));
        _bench.Apply(_bench.TheOpen()!);
        Assert.Equal(ProposalKind.Pad, _bench.TheOpen()!.Kind);
        _bench.Assistant.Watch(true, _bench.Now);

        Assert.Equal(ProposalKind.Unmute, _bench.TheOpen()!.Kind);
        _bench.Apply(_bench.TheOpen()!);
        Assert.Null(_bench.TheOpen());
        Assert.Equal((true, 38.0, false), (_bench.Assistant.Input(1).Settings.PadOn, _bench.Assistant.Input(1).Settings.Trim!.Value.Value, _bench.Assistant.Input(1).Settings.Muted));
    }

    [Fact]
    public void No_increase_is_proposed_during_the_watch_whatever_the_plan() =>
        Gen.Select(Gen.Int[0, 60], Gen.Bool, Gen.Bool, Gen.Int[0, 60], Gen.Bool).Sample((trim, pad, muted, goal, padWanted) =>
        {
            var bench = new AssistantBench();
            bench.Say(one => one with { Muted = muted, Trim = new Decibels(trim), PadOn = pad });
            bench.Assistant.Watch(true, bench.Now);
            var now = bench.Assistant.Input(1).Settings;
            var steps = padWanted
                ? PadSteps.In(goal, bench.Assistant.Desk.Pad!, now)
                : PadSteps.Out(goal, bench.Assistant.Desk.Pad!, bench.Assistant.Desk.Trim!, now);
            for (var step = bench.Assistant.Propose(new([1], steps, null, new()), bench.Now); step is not null; step = bench.TheOpen())
            {
                if (Dangers.RiseDb(step.Kind, step.From, step.To, bench.Assistant.Desk) > 0)
                    return false;
                bench.Apply(step);
            }

            return true;
        }, iter: 2000);

    [Fact]
    public void A_step_that_nobody_answers_closes_the_rest_and_says_what_the_desk_is_left_at()
    {
        _bench.Say(one => one with { Muted = false, Trim = new Decibels(58), PadOn = true });
        _bench.Apply(_bench.ProposePadOut(40));
        var lower = _bench.TheOpen()!;
        _bench.Wait(ProposalLife.Trim.TotalSeconds);

        Assert.Equal(ProposalState.Expired, _bench.Find(lower).State);
        Assert.Contains("left at 58 dB of trim, pad in, muted", _bench.Find(lower).Outcome, StringComparison.Ordinal);
        Assert.Null(_bench.TheOpen());
    }

    [Fact]
    public void A_step_superseded_by_a_hand_at_the_desk_says_what_the_desk_is_left_at()
    {
        _bench.Say(one => one with { Muted = false, Trim = new Decibels(58), PadOn = true });
        _bench.Apply(_bench.ProposePadOut(40));
        var lower = _bench.TheOpen()!;
        _bench.Say(one => one with { Trim = new Decibels(50) });
        _bench.Wait(0.1);

        Assert.Equal(ProposalState.Superseded, _bench.Find(lower).State);
        Assert.Contains("left at 50 dB of trim, pad in, muted", _bench.Find(lower).Outcome, StringComparison.Ordinal);
    }

    [Fact]
    public void Somebody_who_moves_a_value_that_was_set_here_is_named_once()
    {
        _bench.Apply(_bench.ProposeTrim(14));
        Assert.Empty(_bench.Alarms);
        _bench.Say(one => one with { Trim = new Decibels(17) });
        _bench.Say(one => one with { Trim = new Decibels(19) });

        var alarm = Assert.Single(_bench.Alarms);
        Assert.Equal((AlarmKind.ValueMoved, 1), (alarm.Kind, alarm.Input!.Value));
        Assert.Contains("14.0 dB to 17.0 dB", alarm.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_that_nobody_set_here_may_be_moved_without_a_word()
    {
        _bench.ProposeTrim(14);
        _bench.Say(one => one with { Trim = new Decibels(17) });

        Assert.Empty(_bench.Alarms);
    }

    [Fact]
    public void What_was_sent_without_an_answer_is_settled_when_the_desk_is_asked_anew()
    {
        var sent = _bench.ProposeTrim(14);
        var confirmation = GateBench.Naming(sent);
        Assert.Equal(GateCode.Accepted, _bench.Assistant.Gate.Reserve(confirmation, _bench.Assistant.View, _bench.Now).Code);
        Assert.NotNull(_bench.Assistant.Gate.Grant(sent.Id, _bench.Assistant.View));
        _bench.Assistant.Settle(sent.Id, new(WriteResult.Unknown, null, Saying.Plain("no word")), _bench.Now);
        Assert.Equal(ProposalState.Unknown, _bench.Find(sent).State);

        _bench.Assistant.ResolveRead(sent.Id, _bench.Now);

        Assert.Equal(ProposalState.Failed, _bench.Find(sent).State);
        _bench.Assistant.ResolveRead(sent.Id, _bench.Now);
        Assert.Equal("Read back later: the desk is at 20.0 dB.", _bench.Find(sent).Outcome);
    }
}
