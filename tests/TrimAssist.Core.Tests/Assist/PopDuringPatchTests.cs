using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>A pop is never left without its mute, also where a safe patch has the say over that mute.</summary>
public sealed class PopDuringPatchTests
{
    private const double RestDbfs = -75;
    private const double FrameS = 0.05;

    private readonly AssistantBench _bench = new();
    private double _meterS;

    public PopDuringPatchTests()
    {
        foreach (var input in (int[])[1, 2])
            _bench.Say(one => one with { Muted = false }, input);
        _bench.Assistant.Watch(true, _bench.Now);
    }

    [Fact]
    public void While_the_patchs_own_mute_waits_the_pop_points_to_it()
    {
        var asked = Ask(1);
        var alarm = Pop(1);

        Assert.Equal(asked.Id, alarm.ProposalId);
        Assert.Equal(asked.Id, Assert.Single(_bench.Assistant.Book.Open).Id);
    }

    [Fact]
    public void A_patchs_mute_that_the_desk_never_read_back_leaves_a_pop_with_a_mute_of_its_own()
    {
        Send(Ask(1), WriteResult.Unknown);
        var alarm = Pop(1);

        var mute = Assert.Single(_bench.Assistant.Book.Open);
        Assert.Equal((mute.Id, ProposalKind.Mute, true), (alarm.ProposalId, mute.Kind, mute.To.On));
        Assert.Equal(PatchState.Waiting, _bench.Assistant.Patches.Find(1)!.State);
        _bench.Apply(mute);
        Assert.True(_bench.Assistant.Patches.Find(1)!.IsHeld);
    }

    [Fact]
    public void A_patchs_mute_that_is_on_its_way_leaves_a_pop_with_a_mute_of_its_own()
    {
        Confirm(Ask(1));
        var alarm = Pop(1);

        Assert.Equal(Assert.Single(_bench.Assistant.Book.Open).Id, alarm.ProposalId);
    }

    [Fact]
    public void A_mute_that_waits_for_one_half_of_a_pair_leaves_the_other_with_its_own()
    {
        Ask(1);
        _bench.Say(one => one with { LinkedTo = 2 }, 1);
        _bench.Say(one => one with { LinkedTo = 1 }, 2);
        var alarm = Pop(2);

        Assert.Equal([2], _bench.Assistant.Book.Find(alarm.ProposalId!.Value)!.Inputs);
        Assert.Equal(2, _bench.Assistant.Book.Open.Count());
    }

    [Fact]
    public void Another_inputs_mute_holds_no_pop_back()
    {
        Send(Ask(1), WriteResult.Unknown);
        var other = _bench.Propose(ProposalKind.Mute, SettingValue.Switch(true), input: 2);
        var trim = _bench.ProposeTrim(14);
        var alarm = Pop(1);

        Assert.NotNull(alarm.ProposalId);
        Assert.DoesNotContain(alarm.ProposalId!.Value, new[] { other.Id, trim.Id });
    }

    [Fact]
    public void A_trim_is_proposed_during_a_patch_as_ever()
    {
        Ask(1);

        Assert.True(_bench.ProposeTrim(14).IsOpen);
    }

    [Fact]
    public void A_pad_sequence_still_closes_nothing_that_belongs_to_a_patch()
    {
        _bench.Say(one => one with { PadOn = true, Trim = new(40) });
        Send(Ask(1), WriteResult.Unknown);

        Assert.Null(_bench.ProposePadOut(20));
    }

    [Fact]
    public void Taking_back_an_unmute_during_a_patch_is_refused_for_the_patch_and_not_for_a_value_that_moved()
    {
        var opened = Opened();
        Ask(1);

        Assert.Equal((WayBack.PatchUnderWay, null), _bench.Assistant.Undo(opened.Id, _bench.Now));
    }

    [Fact]
    public void Taking_back_an_unmute_is_a_mute_where_the_patchs_own_is_not_open_any_more()
    {
        var opened = Opened();
        Send(Ask(1), WriteResult.Unknown);

        var (answer, mute) = _bench.Assistant.Undo(opened.Id, _bench.Now);
        Assert.Equal((WayBack.Proposed, ProposalKind.Mute), (answer, mute!.Kind));
    }

    [Fact]
    public void Taking_back_a_pad_during_a_patch_is_refused_for_the_patch()
    {
        _bench.Assistant.Watch(false, _bench.Now);
        _bench.Say(one => one with { Muted = true });
        var padIn = _bench.Apply(_bench.Propose(ProposalKind.Pad, SettingValue.Switch(true)));
        _bench.Say(one => one with { Muted = false, Trim = new(40) });
        Ask(1);

        Assert.Equal((WayBack.PatchUnderWay, null), _bench.Assistant.Undo(padIn.Id, _bench.Now));
    }

    private Proposal Opened()
    {
        _bench.Say(one => one with { Muted = true });
        return _bench.Apply(_bench.Propose(ProposalKind.Unmute, SettingValue.Switch(false)));
    }

    private Proposal Ask(int input) => _bench.Assistant.Book.Find(_bench.Assistant.AskForPatch(input, null, _bench.Now).MuteProposal!.Value)!;

    private void Confirm(Proposal proposal)
    {
        Assert.Equal(GateCode.Accepted, _bench.Assistant.Gate.Reserve(GateBench.Naming(proposal), _bench.Assistant.View, _bench.Now).Code);
        Assert.NotNull(_bench.Assistant.Gate.Grant(proposal.Id, _bench.Assistant.View));
    }

    private void Send(Proposal proposal, WriteResult result)
    {
        Confirm(proposal);
        _bench.Assistant.Settle(proposal.Id, new(result, null, Saying.Plain("no word")), _bench.Now);
    }

    // A bang is told from a first note by the rest before it.
    private Alarm Pop(int input)
    {
        for (var frame = 0; frame < 80; frame++)
            Hear(input, RestDbfs + (0.2 * (frame % 4)));
        Hear(input, -3);
        for (var frame = 0; frame < 4 && !_bench.Alarms.Exists(IsPop); frame++)
            Hear(input, RestDbfs);
        var popped = _bench.Alarms.Last(IsPop);
        return _bench.Assistant.Alarms.Find(popped.Id)!;
    }

    private static bool IsPop(Alarm alarm) => alarm.Kind == AlarmKind.Pop;

    private void Hear(int input, double peakDbfs)
    {
        _meterS += FrameS;
        _bench.Assistant.OnReading(new MeterReading(input, _meterS, (float)peakDbfs, (float)peakDbfs - 4), _bench.Now);
    }
}
