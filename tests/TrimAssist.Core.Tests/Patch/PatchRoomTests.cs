using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Patch;

public sealed class PatchRoomTests
{
    private readonly PatchBench _bench = new();

    [Fact]
    public void Asking_makes_a_mute_proposal_with_the_stages_reason_and_waits()
    {
        _bench.Ask("the DI is dead");

        var mute = _bench.Open();
        Assert.Equal((PatchState.Waiting, mute.Id), (_bench.Patch.State, _bench.Patch.MuteProposal!.Value));
        Assert.Equal((ProposalKind.Mute, false, true), (mute.Kind, mute.From.On, mute.To.On));
        Assert.Contains("the DI is dead", mute.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Asking_twice_is_one_patch_and_one_proposal()
    {
        var first = _bench.Ask();

        Assert.Equal(first.Id, _bench.Ask().Id);
        Assert.Single(_bench.Gate.Book.All);
    }

    [Fact]
    public void Plug_now_is_said_only_when_the_desk_has_told_the_mute()
    {
        _bench.Ask();
        Assert.Equal(PatchState.Waiting, _bench.Patch.State);
        Assert.Null(_bench.Room.Lease(_bench.Patch));
        _bench.Confirm(_bench.Open());

        Assert.Equal(PatchState.Safe, _bench.Patch.State);
        Assert.Equal(PatchRules.VerifiedWithin, _bench.Room.Lease(_bench.Patch));
    }

    [Fact]
    public void A_mute_that_leaves_a_path_open_is_partly_and_names_it()
    {
        var bench = new PatchBench(["main", "sends"]);
        bench.Ask();
        bench.Confirm(bench.Open());

        Assert.Equal((PatchState.Partly, "direct"), (bench.Patch.State, Assert.Single(bench.Patch.OpenPaths)));
    }

    [Theory]
    [InlineData(1.0, PatchState.Safe)]
    [InlineData(1.001, PatchState.Lost)]
    public void A_mute_that_was_not_read_again_for_a_second_is_lost(double seconds, PatchState expected)
    {
        Hold();
        _bench.Wait(seconds);

        Assert.Equal(expected, _bench.Patch.State);
    }

    [Fact]
    public void The_lease_runs_out_with_the_age_of_the_last_reading()
    {
        Hold();
        _bench.Wait(0.7);

        Assert.Equal(0.3, _bench.Room.Lease(_bench.Patch)!.Value.TotalSeconds, 6);
    }

    [Theory]
    [InlineData(LinkState.Stale)]
    [InlineData(LinkState.Lost)]
    public void A_link_that_is_not_live_ends_the_permission(LinkState link)
    {
        Hold();
        _bench.Gate.Link = link;
        _bench.Look();

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
        Assert.Null(_bench.Room.Lease(_bench.Patch));
    }

    [Fact]
    public void An_unmute_by_hand_ends_the_permission_and_calls_the_engineer()
    {
        Hold();
        _bench.Say(1, one => one with { Muted = false });

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
        Assert.Equal((AlarmKind.ValueMoved, AlarmPriority.High), (_bench.Alarms.All.Single().Kind, _bench.Alarms.All.Single().Priority));
    }

    [Fact]
    public void Lost_stays_lost_until_the_stage_asks_again()
    {
        Hold();
        _bench.Gate.Link = LinkState.Stale;
        _bench.Look();
        _bench.Gate.Link = LinkState.Live;
        _bench.Say(1, one => one);
        Assert.Equal(PatchState.Lost, _bench.Patch.State);

        Assert.Equal(PatchState.Safe, _bench.Ask().State);
    }

    [Fact]
    public void A_patch_asked_for_again_still_knows_that_the_mute_was_its_own()
    {
        Hold();
        _bench.Wait(2);
        _bench.Say(1, one => one);
        _bench.Ask();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -80);

        Assert.Equal(ProposalKind.Unmute, _bench.Open().Kind);
    }

    [Theory]
    [InlineData(ProposalState.Declined)]
    [InlineData(ProposalState.Expired)]
    public void A_no_or_no_answer_tells_the_stage_to_stop(ProposalState end)
    {
        _bench.Ask();
        _bench.Gate.Book.Move(_bench.Open().Id, end, null);
        _bench.Look();

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
    }

    [Fact]
    public void An_input_that_was_muted_before_needs_no_proposal_and_is_never_opened()
    {
        _bench.Say(1, one => one with { Muted = true });
        Assert.Equal((PatchState.Safe, true), (_bench.Ask().State, _bench.Patch.MutedBefore));
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -80);

        Assert.Equal(PatchState.Done, _bench.Patch.State);
        Assert.Empty(_bench.Gate.Book.All);
    }

    [Fact]
    public void A_mute_closed_by_hand_meanwhile_is_not_opened_either()
    {
        _bench.Ask();
        _bench.Gate.Book.Move(_bench.Open().Id, ProposalState.Superseded, null);
        _bench.Say(1, one => one with { Muted = true });
        Assert.Equal(PatchState.Safe, _bench.Patch.State);
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -80);

        Assert.Equal(PatchState.Done, _bench.Patch.State);
        Assert.Empty(_bench.Gate.Book.Open);
    }

    [Fact]
    public void A_pad_sequence_of_a_check_does_not_take_the_mute_away_that_the_stage_waits_for()
    {
        _bench.Ask();
        var mute = _bench.Open();

        Assert.Null(ProposePad());

        Assert.Equal(mute.Id, _bench.Open().Id);
        Assert.Equal(PatchState.Waiting, _bench.Patch.State);
    }

    [Fact]
    public void A_pad_sequence_that_muted_before_the_stage_asked_offers_no_unmute_while_the_plug_may_be_in_a_hand()
    {
        var step = ProposePad()!;
        _bench.Confirm(step);
        Assert.Equal(PatchState.Safe, _bench.Ask().State);
        while (_bench.Gate.Book.Open.SingleOrDefault() is { } next)
        {
            step = next;
            _bench.Confirm(next);
        }

        Assert.Equal((ProposalKind.Trim, PatchState.Safe, true), (step.Kind, _bench.Patch.State, _bench.Gate.Settings(1).Muted));
        Assert.Contains("stays muted", _bench.Gate.Book.Find(step.Id)!.Outcome, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unmute_that_stood_open_when_the_stage_asked_is_taken_back()
    {
        _bench.Say(1, one => one with { Muted = true });
        var unmute = ProposeUnmute()!;
        _bench.Ask();

        Assert.Equal(ProposalState.Superseded, _bench.Gate.Book.Find(unmute.Id)!.State);
        Assert.Equal(GateCode.NotOpen, _bench.Gate.Confirm(GateBench.Naming(unmute)).Code);
    }

    [Theory]
    [InlineData(ProposalState.Confirmed)]
    [InlineData(ProposalState.Unknown)]
    public void Plug_now_is_not_said_while_an_unmute_is_on_its_way_to_the_desk(ProposalState state)
    {
        _bench.Say(1, one => one with { Muted = true });
        var unmute = ProposeUnmute()!;
        _bench.Gate.Book.Move(unmute.Id, state, null);
        Assert.Equal(PatchState.Waiting, _bench.Ask().State);

        _bench.Gate.Book.Move(unmute.Id, ProposalState.Failed, null);
        _bench.Look();
        Assert.Equal(PatchState.Safe, _bench.Patch.State);
    }

    [Fact]
    public void What_the_patch_kept_closed_may_be_opened_again_when_it_is_over()
    {
        Hold();
        Assert.Null(ProposeUnmute());
        _bench.Wait(2);
        Assert.Equal(PatchState.Lost, _bench.Patch.State);

        Assert.NotNull(ProposeUnmute());
    }

    [Fact]
    public void A_mute_that_the_desk_has_not_told_is_proposed_once_it_has()
    {
        _bench.Say(1, one => one with { Muted = null });
        Assert.Equal((PatchState.Waiting, null), (_bench.Ask().State, _bench.Patch.MuteProposal));
        _bench.Say(1, one => one with { Muted = false });

        Assert.Equal(_bench.Open().Id, _bench.Patch.MuteProposal);
    }

    [Fact]
    public void Plugging_before_it_is_safe_changes_nothing()
    {
        _bench.Ask();

        Assert.Equal(PatchState.Waiting, _bench.Room.Plugged(1)!.State);
    }

    [Fact]
    public void A_plugged_input_is_opened_only_by_a_confirmed_proposal_after_two_quiet_seconds()
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(at => at < 0.1 ? -3 : -80, seconds: 2);
        Assert.Equal((PatchState.Settling, null), (_bench.Patch.State, _bench.Patch.OpeningSequence));
        _bench.Sound(_ => -80, seconds: 0.5);
        var opening = _bench.Open();
        Assert.Equal((ProposalKind.Unmute, PatchState.Settling), (opening.Kind, _bench.Patch.State));
        Assert.Contains("fader down first", opening.Reason, StringComparison.Ordinal);
        _bench.Confirm(opening);

        Assert.Equal((PatchState.Done, false), (_bench.Patch.State, _bench.Gate.Settings(1).Muted));
    }

    [Fact]
    public void An_opening_that_the_engineer_declines_leaves_the_input_muted()
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -80);
        _bench.Gate.Book.Move(_bench.Open().Id, ProposalState.Declined, null);
        _bench.Look();

        Assert.Equal((PatchState.Done, true), (_bench.Patch.State, _bench.Gate.Settings(1).Muted));
        Assert.Contains("stays muted", _bench.Patch.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hotter_instrument_is_trimmed_down_before_it_is_opened()
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -5);

        var trim = _bench.Open();
        Assert.Equal((ProposalKind.Trim, 20.0, 11.0, 2), (trim.Kind, trim.From.Db, trim.To.Db, trim.Steps));
        _bench.Confirm(trim);
        Assert.Equal(ProposalKind.Unmute, _bench.Open().Kind);
    }

    [Theory]
    [InlineData(LinkState.Stale)]
    [InlineData(LinkState.Lost)]
    public void A_link_lost_while_the_opening_is_proposed_is_told_and_the_opening_taken_back(LinkState link)
    {
        Settle(peakDbfs: -80);
        var opening = _bench.Open();
        _bench.Gate.Link = link;
        _bench.Look();

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
        Assert.Equal(ProposalState.Superseded, _bench.Gate.Book.Find(opening.Id)!.State);
    }

    [Fact]
    public void A_trim_whose_answer_comes_after_the_patch_was_lost_opens_nothing()
    {
        Settle(peakDbfs: -5);
        var trim = _bench.Open();
        _bench.Gate.Book.Move(trim.Id, ProposalState.Unknown, null);
        _bench.Gate.Link = LinkState.Lost;
        _bench.Look();
        _bench.Gate.Link = LinkState.Live;
        Assert.Equal(PatchState.Safe, _bench.Ask().State);
        _bench.Gate.Proposals.Follow(_bench.Gate.Book.Move(trim.Id, ProposalState.Applied, null), _bench.Gate.Now);

        Assert.Empty(_bench.Gate.Book.Open);
    }

    [Fact]
    public void A_mute_not_read_again_while_the_opening_is_proposed_is_lost()
    {
        Settle(peakDbfs: -80);
        _bench.Wait(1.001);

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
    }

    [Theory]
    [InlineData(-80)]
    [InlineData(-5)]
    public void A_mute_opened_by_hand_before_the_proposed_opening_is_confirmed_is_done_without_a_call(double peakDbfs)
    {
        Settle(peakDbfs);
        _bench.Say(1, one => one with { Muted = false });

        Assert.Equal((PatchState.Done, "Opened at the desk."), (_bench.Patch.State, _bench.Patch.Text));
        Assert.False(_bench.Room.IsHeld(1));
        Assert.Empty(_bench.Alarms.All);
    }

    [Fact]
    public void A_mute_opened_by_hand_while_the_trim_is_on_its_way_leaves_nothing_to_open()
    {
        Settle(peakDbfs: -5);
        var trim = _bench.Open();
        _bench.Gate.Book.Move(trim.Id, ProposalState.Confirmed, null);
        _bench.Say(1, one => one with { Muted = false });

        Assert.Equal((PatchState.Done, "Opened at the desk."), (_bench.Patch.State, _bench.Patch.Text));
    }

    [Theory]
    [InlineData(ProposalState.Confirmed)]
    [InlineData(ProposalState.Unknown)]
    public void A_mute_that_reads_open_while_our_own_opening_is_on_its_way_waits_for_the_answer(ProposalState state)
    {
        Settle(peakDbfs: -80);
        var opening = _bench.Open();
        _bench.Gate.Book.Move(opening.Id, state, null);
        _bench.Say(1, one => one with { Muted = false });
        Assert.Equal(PatchState.Settling, _bench.Patch.State);
        _bench.Gate.Book.Move(opening.Id, ProposalState.Applied, null);
        _bench.Look();

        Assert.Equal((PatchState.Done, "Open again."), (_bench.Patch.State, _bench.Patch.Text));
    }

    [Fact]
    public void A_trim_after_which_no_opening_can_be_proposed_ends_the_patch()
    {
        Settle(peakDbfs: -5);
        var trim = _bench.Open();
        _bench.Gate.Book.Move(trim.Id, ProposalState.Applied, null);
        _bench.Look();

        Assert.Equal((PatchState.Done, true), (_bench.Patch.State, _bench.Gate.Settings(1).Muted));
        Assert.Contains("stays muted", _bench.Patch.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_higher_noise_floor_is_named_as_a_pad_or_DI_switch()
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -50);

        Assert.Equal(17, _bench.Patch.After!.NoiseOver(_bench.Patch.Before)!.Value, 3);
        Assert.Contains("17 dB higher", _bench.Patch.Advice, StringComparison.Ordinal);
        Assert.Contains("17 dB higher", _bench.Open().Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trim_moved_meanwhile_is_allowed_for_in_the_comparison()
    {
        Hold();
        _bench.Say(1, one => one with { Trim = new(30) });
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -57);

        Assert.Equal(0, _bench.Patch.After!.NoiseOver(_bench.Patch.Before)!.Value, 3);
        Assert.Equal("It sounds as before.", _bench.Patch.Advice);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(null)]
    public void Phantom_power_on_or_unknown_is_shown_to_both(bool? phantom)
    {
        _bench.Say(1, one => one with { PhantomOn = phantom });
        Hold();

        Assert.Equal(phantom, _bench.Patch.PhantomOn);
        Assert.NotNull(_bench.Patch.Caution);
        _bench.Say(1, one => one with { PhantomOn = false });
        Assert.Null(_bench.Patch.Caution);
    }

    [Fact]
    public void Both_halves_of_a_pair_are_muted_and_opened_together()
    {
        _bench.Say(1, one => one with { LinkedTo = 2 });
        _bench.Say(2, one => one with { LinkedTo = 1, Muted = false });
        _bench.Ask();
        Assert.Equal([1, 2], _bench.Open().Inputs);
        _bench.Confirm(_bench.Open());
        Assert.Equal((PatchState.Safe, _bench.Patch.Id), (_bench.Patch.State, _bench.Room.Find(2)!.Id));
        _bench.Say(2, one => one with { Muted = false });

        Assert.Equal(PatchState.Lost, _bench.Patch.State);
    }

    [Fact]
    public void A_suppressed_condition_that_outlives_the_patch_calls_for_the_engineer()
    {
        Hold();
        var alarm = _bench.Alarms.Raise(AlarmKind.NoiseRise, 1, _bench.Gate.Now, suppressed: true).Id;
        var bang = _bench.Alarms.Raise(AlarmKind.Pop, 1, _bench.Gate.Now, suppressed: true).Id;
        _bench.Alarms.End(bang, _bench.Gate.Now);
        Assert.DoesNotContain(_bench.Alarms.All, one => one.IsActive);
        _bench.Wait(2);

        Assert.Equal(AlarmState.Unacknowledged, _bench.Alarms.Find(alarm)!.State);
        Assert.Equal(AlarmState.Suppressed, _bench.Alarms.Find(bang)!.State);
    }

    [Fact]
    public void Every_change_is_told_once_and_in_order()
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => -80);
        _bench.Confirm(_bench.Open());

        PatchState[] states = [.. _bench.Told.Select(one => one.State)];
        Assert.Equal([PatchState.Waiting, PatchState.Waiting, PatchState.Safe, PatchState.Settling, PatchState.Settling, PatchState.Done], states);
    }

    private Proposal? ProposePad() => _bench.Gate.Proposals.Propose(
        new(
            [1],
            [
                new(ProposalKind.Mute, SettingValue.Switch(true), Saying.Plain("mute first")),
                new(ProposalKind.Trim, SettingValue.Gain(12), Saying.Plain("trim")),
                new(ProposalKind.Unmute, SettingValue.Switch(false), Saying.Plain("unmute again")),
            ],
            null,
            new()),
        _bench.Gate.Now,
        ProposalLife.Trim);

    private Proposal? ProposeUnmute() => _bench.Gate.Proposals.Propose(
        new([1], [new(ProposalKind.Unmute, SettingValue.Switch(false), Saying.Plain("open again"))], null, new()), _bench.Gate.Now, ProposalLife.Trim);

    private void Settle(double peakDbfs)
    {
        Hold();
        _bench.Room.Plugged(1);
        _bench.Sound(_ => peakDbfs);
        Assert.Equal(PatchState.Settling, _bench.Patch.State);
        Assert.NotNull(_bench.Patch.OpeningSequence);
    }

    private void Hold()
    {
        _bench.Ask();
        _bench.Confirm(_bench.Open());
        Assert.Equal(PatchState.Safe, _bench.Patch.State);
    }
}
