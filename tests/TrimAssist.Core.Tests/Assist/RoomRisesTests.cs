using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>What a band gets to confirm in its rehearsal room: small steps behind the mute, up to the session's ceiling.</summary>
public sealed class RoomRisesTests
{
    private static readonly ConfirmerLimits Band = new([1], ConfirmerLimits.RoomRiseDb);

    private readonly AssistantBench _bench = new(new RehearsalOptions());

    // A session knows an input from the first word about it.
    public RoomRisesTests() => _bench.Say(one => one with { Label = "heard" });

    [Fact]
    public void A_rise_on_an_open_input_is_muted_first_climbs_three_dB_a_confirmation_and_is_opened_again()
    {
        Open();
        var step = _bench.ProposeTrim(27);
        List<string> seen = [];
        for (; step is not null; step = _bench.TheOpen())
        {
            Assert.True(_bench.Assistant.MayConfirm(step, Band));
            seen.Add($"{step.Step}/{step.Steps} {step.Kind} {step.To}");
            Assert.Equal(step.Kind == ProposalKind.Unmute, ((string)step.Reason).Contains("monitors down first", StringComparison.Ordinal));
            _bench.Apply(step);
        }

        Assert.Equal(["1/5 Mute on", "2/5 Trim 23.0 dB", "3/5 Trim 26.0 dB", "4/5 Trim 27.0 dB", "5/5 Unmute off"], seen);
    }

    [Theory]
    [InlineData(20.1, 0)]
    [InlineData(4.4, 0)]
    [InlineData(20, -0.3)]
    [InlineData(20, 0.3)]
    public void A_step_counts_from_what_the_desk_reads_back_so_that_a_band_is_never_refused_half_way(double found, double beside)
    {
        _bench.Say(one => one with { Trim = new Decibels((float)found), Muted = false });
        _bench.Assistant.BeginAct(new("Tin Orchard", null, []), _bench.Now);
        var kinds = new List<ProposalKind>();
        for (var step = _bench.ProposeTrim(Math.Floor(found) + 11); step is not null; step = _bench.TheOpen())
        {
            Assert.True(_bench.Assistant.MayConfirm(step, Band), $"{step.From} to {step.To}");
            kinds.Add(step.Kind);
            _bench.Apply(step, beside);
        }

        Assert.Equal((ProposalKind.Mute, ProposalKind.Unmute), (kinds[0], kinds[^1]));
        // A desk that stays under what is set falls a little short at each step: the safe side.
        Assert.InRange(Trim(), found + 8.5, found + 11.5);
    }

    [Fact]
    public void A_check_that_begins_meanwhile_leaves_the_offer_to_open_what_was_muted()
    {
        Open();
        for (var step = _bench.ProposeTrim(27); step.Kind != ProposalKind.Unmute; step = _bench.TheOpen()!)
            _bench.Apply(step);
        var opens = _bench.TheOpen()!;
        _bench.Assistant.StartCheck([1], _bench.Now);

        Assert.Same(opens, _bench.TheOpen());
    }

    [Fact]
    public void A_pad_that_nobody_has_told_of_leaves_the_whole_proposal_to_an_engineer()
    {
        _bench.Say(one => one with { PadOn = null });
        var rise = _bench.ProposeTrim(40);

        Assert.Equal((ProposalKind.Trim, false), (rise.Kind, _bench.Assistant.MayConfirm(rise, Band)));
    }

    [Fact]
    public void The_way_back_from_a_change_is_offered_whole_whatever_the_ceiling_leaves()
    {
        _bench.Apply(_bench.ProposeTrim(32));
        Climb(_bench.TheOpen());
        var down = _bench.Apply(_bench.ProposeTrim(10));
        _bench.Say(one => one with { Trim = new Decibels(10) });

        Assert.Equal(WayBack.Proposed, _bench.Assistant.Undo(down.Id, _bench.Now).Answer);
    }

    [Fact]
    public void Another_act_is_another_session_whoever_was_off_meanwhile()
    {
        Climb(_bench.ProposeTrim(40));
        Assert.Equal(32, Trim());
        _bench.Assistant.BeginAct(new("Tin Orchard", null, []), _bench.Now);
        Climb(_bench.ProposeTrim(40));
        Assert.Equal(40, Trim());
    }

    [Fact]
    public void What_is_muted_already_is_raised_in_steps_and_stays_muted()
    {
        _bench.Apply(_bench.ProposeTrim(25));
        var second = _bench.TheOpen()!;

        Assert.Equal((ProposalKind.Trim, 25.0, 2, 2), (second.Kind, second.To.Db, second.Step, second.Steps));
        _bench.Apply(second);
        Assert.Null(_bench.TheOpen());
    }

    [Fact]
    public void A_way_down_is_one_step_and_so_is_everything_outside_a_rehearsal_room()
    {
        Open();
        Assert.Equal((ProposalKind.Trim, 1), (_bench.ProposeTrim(5).Kind, _bench.ProposeTrim(4).Steps));
        Assert.Equal(1, new AssistantBench().ProposeTrim(30).Steps);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Whoever_gives_up_on_the_way_is_offered_to_open_what_was_muted_for_it(bool declines)
    {
        Open();
        _bench.Apply(_bench.ProposeTrim(27));
        var climbing = _bench.TheOpen()!;
        if (declines)
            _bench.Assistant.Decline(climbing.Id, _bench.Now);
        else
            _bench.Wait(ProposalLife.Trim.TotalSeconds + 1);

        var opens = _bench.TheOpen()!;
        Assert.Equal((ProposalKind.Unmute, 1), (opens.Kind, opens.Steps));
        Assert.NotEqual(climbing.SequenceId, opens.SequenceId);
    }

    [Fact]
    public void A_mute_that_is_given_up_leaves_nothing_open()
    {
        Open();
        _bench.Assistant.Decline(_bench.ProposeTrim(27).Id, _bench.Now);

        Assert.Null(_bench.TheOpen());
    }

    [Fact]
    public void A_session_goes_no_further_than_its_ceiling_over_where_it_found_the_input()
    {
        Climb(_bench.ProposeTrim(40));
        Assert.Equal(32, Trim());

        Assert.Null(_bench.Assistant.Propose(Plan(40), _bench.Now));
        _bench.Apply(_bench.ProposeTrim(30));
        Climb(_bench.ProposeTrim(40));
        Assert.Equal(32, Trim());
    }

    [Fact]
    public void The_ceiling_holds_for_a_band_whoever_made_the_proposal_and_not_for_the_engineer()
    {
        var outside = new AssistantBench();
        outside.Say(one => one with { Label = "heard" });
        for (var trim = 23; trim <= 32; trim += 3)
            outside.Apply(outside.ProposeTrim(trim));
        Assert.False(outside.Assistant.MayConfirm(outside.ProposeTrim(33), Band));
        Assert.True(outside.Assistant.MayConfirm(outside.ProposeTrim(31), Band));
    }

    [Fact]
    public void A_tighter_ceiling_is_kept_and_a_wider_one_is_not()
    {
        foreach (var (asked, reached) in new[] { (4.0, 24.0), (40.0, 32.0) })
        {
            var bench = new AssistantBench(new RehearsalOptions { MostRiseDb = asked });
            bench.Say(one => one with { Label = "heard" });
            for (var step = bench.ProposeTrim(50); step is not null; step = bench.TheOpen())
                bench.Apply(step);
            Assert.Equal(reached, bench.Assistant.View.Settings(1).Trim!.Value.Value);
        }
    }

    [Fact]
    public void After_an_hour_without_playing_another_session_begins_with_the_next_check_and_not_before()
    {
        Climb(_bench.ProposeTrim(40));
        Hear(3_500, -80);
        Hear(5, -20);
        Hear(30, -80);
        Assert.Null(_bench.Assistant.Propose(Plan(40), _bench.Now));

        Hear(3_700, -80);
        Assert.Null(_bench.Assistant.Propose(Plan(40), _bench.Now));
        Hear(5, -20);
        Climb(_bench.ProposeTrim(60));
        Assert.Equal(44, Trim());
    }

    [Fact]
    public void A_pad_that_comes_out_and_a_desk_that_has_not_told_its_mute_are_left_to_an_engineer()
    {
        _bench.Say(one => one with { PadOn = true, Muted = false });
        Assert.Equal(5, _bench.ProposePadOut(20).Steps);
        _bench.Say(one => one with { PadOn = false, Muted = null });

        var plain = _bench.ProposeTrim(27);
        Assert.Equal(1, plain.Steps);
        Assert.False(_bench.Assistant.MayConfirm(plain, Band));
    }

    private static TrimPlan Plan(double to) => new([1], [new(ProposalKind.Trim, SettingValue.Gain(to), Saying.Plain("because"))], null, new ProposalEvidence());

    private void Open() => _bench.Say(one => one with { Muted = false });

    private double Trim() => _bench.Assistant.View.Settings(1).Trim!.Value.Value;

    private void Climb(Proposal? step)
    {
        for (; step is not null; step = _bench.TheOpen())
            _bench.Apply(step);
    }

    private int _second;

    private void Hear(int seconds, float peakDbfs)
    {
        for (var left = seconds; left > 0; left--)
        {
            var peak = peakDbfs - (++_second * 3 % 5);
            _bench.Assistant.OnReading(new MeterReading(1, _second, peak, peak - 12), _bench.Now);
            _bench.Wait(1);
        }
    }
}
