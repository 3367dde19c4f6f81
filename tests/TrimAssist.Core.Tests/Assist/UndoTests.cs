using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

public sealed class UndoTests
{
    private readonly AssistantBench _bench = new();

    [Fact]
    public void Undo_is_an_open_proposal_back_to_the_value_before()
    {
        var applied = _bench.Apply(_bench.ProposeTrim(14));

        var (answer, undo) = _bench.Assistant.Undo(applied.Id, _bench.Now);

        Assert.Equal((WayBack.Proposed, ProposalState.Open), (answer, undo!.State));
        Assert.Equal((14.0, 20.0), (undo.From.Db, undo.To.Db));
        Assert.NotEqual(applied.Digest, undo.Digest);
    }

    [Fact]
    public void An_undo_that_raises_an_open_input_carries_the_danger_like_any_increase()
    {
        _bench.Say(one => one with { Muted = false });
        var applied = _bench.Apply(_bench.ProposeTrim(10));

        Assert.Equal([Dangers.OpenIncrease], _bench.Assistant.Undo(applied.Id, _bench.Now).Proposal!.Needs);
    }

    [Fact]
    public void What_was_not_applied_has_no_way_back()
    {
        Assert.Equal(WayBack.NotApplied, _bench.Assistant.Undo(_bench.ProposeTrim(14).Id, _bench.Now).Answer);
        Assert.Equal(WayBack.NotFound, _bench.Assistant.Undo(Guid.NewGuid(), _bench.Now).Answer);
    }

    [Fact]
    public void A_value_that_moved_since_is_not_taken_back()
    {
        var applied = _bench.Apply(_bench.ProposeTrim(14));
        _bench.Say(one => one with { Trim = new Decibels(17) });

        Assert.Equal(WayBack.ValueMoved, _bench.Assistant.Undo(applied.Id, _bench.Now).Answer);
    }

    [Fact]
    public void During_the_watch_only_decreases_are_taken_back_to()
    {
        var lowered = _bench.Apply(_bench.ProposeTrim(14));
        _bench.Assistant.Watch(true, _bench.Now);
        Assert.Equal(WayBack.NoIncreaseNow, _bench.Assistant.Undo(lowered.Id, _bench.Now).Answer);

        _bench.Assistant.Watch(false, _bench.Now);
        var raised = _bench.Apply(_bench.ProposeTrim(18));
        _bench.Assistant.Watch(true, _bench.Now);
        Assert.Equal(WayBack.Proposed, _bench.Assistant.Undo(raised.Id, _bench.Now).Answer);
    }

    [Fact]
    public void A_mute_is_undone_by_an_unmute_that_says_fader_down()
    {
        _bench.Say(one => one with { Muted = false });
        var applied = _bench.Apply(_bench.Propose(ProposalKind.Mute, SettingValue.Switch(true)));

        var undo = _bench.Assistant.Undo(applied.Id, _bench.Now).Proposal!;
        Assert.Equal((ProposalKind.Unmute, true, false), (undo.Kind, undo.From.On, undo.To.On));
        Assert.Contains("fader down first", undo.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pad_is_undone_by_the_safe_steps_and_no_louder_than_it_is()
    {
        _bench.Say(one => one with { Muted = false, Trim = new Decibels(40), PadOn = true });
        _bench.Apply(_bench.ProposePadOut(20));
        while (_bench.TheOpen() is { } step)
            _bench.Apply(step);
        var padOut = _bench.Assistant.Book.All.Single(one => one.Kind == ProposalKind.Pad);
        Assert.Equal((false, 20.0), (_bench.Assistant.Input(1).Settings.PadOn, _bench.Assistant.Input(1).Settings.Trim!.Value.Value));

        var kinds = new List<ProposalKind>();
        for (var step = _bench.Assistant.Undo(padOut.Id, _bench.Now).Proposal; step is not null; step = _bench.TheOpen())
        {
            kinds.Add(step.Kind);
            _bench.Apply(step);
        }

        Assert.Equal([ProposalKind.Mute, ProposalKind.Pad, ProposalKind.Unmute], kinds);
        Assert.Equal((true, 20.0), (_bench.Assistant.Input(1).Settings.PadOn, _bench.Assistant.Input(1).Settings.Trim!.Value.Value));
    }

    [Fact]
    public void A_mute_is_not_taken_back_while_a_safe_patch_of_its_input_is_under_way()
    {
        _bench.Say(one => one with { Muted = false });
        var mute = _bench.Apply(_bench.Propose(ProposalKind.Mute, SettingValue.Switch(true)));
        _bench.Assistant.AskForPatch(1, null, _bench.Now);

        Assert.Equal((WayBack.PatchUnderWay, null), _bench.Assistant.Undo(mute.Id, _bench.Now));
    }

    [Fact]
    public void Mute_first_proposes_a_mute_beside_the_increase_and_takes_the_danger_away_once_applied()
    {
        _bench.Say(one => one with { Muted = false });
        var rise = _bench.ProposeTrim(30);
        Assert.Equal([Dangers.OpenIncrease], rise.Needs);

        _bench.Apply(_bench.Assistant.MuteFirst(rise.Id, _bench.Now)!);

        Assert.Empty(_bench.Find(rise).Needs);
        Assert.True(_bench.Find(rise).IsOpen);
        Assert.Null(_bench.Assistant.MuteFirst(rise.Id, _bench.Now));
    }

    [Fact]
    public void A_mute_that_the_stage_waits_for_is_the_answer_and_is_not_closed_by_another()
    {
        _bench.Say(settings => settings with { Muted = false });
        var rise = _bench.ProposeTrim(30);
        var patch = _bench.Assistant.AskForPatch(1, null, _bench.Now);

        Assert.Equal(patch.MuteProposal, _bench.Assistant.MuteFirst(rise.Id, _bench.Now)?.Id);

        Assert.Equal(PatchState.Waiting, _bench.Assistant.Patches.Find(1)!.State);
        Assert.Single(_bench.Assistant.Book.Open, one => one.Kind == ProposalKind.Mute);
    }
}
