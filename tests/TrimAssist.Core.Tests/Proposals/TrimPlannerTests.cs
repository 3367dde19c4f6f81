using CsCheck;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Proposals;

public sealed class TrimPlannerTests
{
    private static readonly Dbfs Target = new(-12);

    private static readonly InputSettings Usual = new() { Input = 1, Trim = new Decibels(30), PadOn = false, Muted = false };

    [Fact]
    public void A_hot_input_comes_down_to_land_on_the_target()
    {
        var step = Assert.Single(Plan(Heard(aim: -4.5)).Steps);

        // 30 − 7.5 lies between two steps of 1 dB: the lower one.
        Assert.Equal((ProposalKind.Trim, SettingValue.Gain(22)), (step.Kind, step.To));
    }

    [Fact]
    public void Every_proposed_trim_is_a_setting_of_the_desk_and_never_lands_above_the_target() =>
        Gen.Select(Gen.Double[-60, 3], Gen.Double[0, 60], Gen.Double[0.1, 6]).Sample((aim, now, step) =>
        {
            var trim = new TrimControl(0, 60, step, 0.05, false, []);
            var desk = GateBench.Describe([]) with { Trim = trim, Pad = null };
            var current = TrimGrid.AtMost(trim, now);
            var plan = TrimPlanner.Plan(desk, [Usual with { Trim = new Decibels(current) }], Heard(aim), Target, mayRaise: true);
            if (plan.Steps.Count == 0)
                return true;
            var to = plan.Steps[0].To.Db!.Value;
            var onGrid = Math.Abs((to / step) - Math.Round(to / step)) < 1e-4;
            var lands = aim + to - current;
            return onGrid && to is >= 0 and <= 60 && (lands <= Target.Value + 1e-4 || to == 0);
        });

    [Fact]
    public void A_trim_that_is_right_is_left_alone()
    {
        var plan = Plan(Heard(aim: -12.4));

        Assert.Empty(plan.Steps);
        Assert.Equal("The trim is right as it is.", plan.Advice);
    }

    [Fact]
    public void No_increase_is_planned_during_the_show_but_a_decrease_is()
    {
        Assert.Empty(Plan(Heard(aim: -30), mayRaise: false).Steps);
        Assert.Single(Plan(Heard(aim: -3), mayRaise: false).Steps);
    }

    [Fact]
    public void Too_little_playing_gives_the_reason_and_no_trim()
    {
        var plan = Plan(Heard(aim: -3) with { Prediction = null, Withheld = Saying.Plain("Heard 4 s of playing, want 10.") });

        Assert.Empty(plan.Steps);
        Assert.Equal("Heard 4 s of playing, want 10.", plan.Advice);
    }

    [Fact]
    public void A_trim_that_the_desk_has_not_told_gives_advice_and_no_proposal() =>
        Assert.Empty(Plan(Heard(aim: -3), Usual with { Trim = null }).Steps);

    [Theory]
    [InlineData(MeterTap.Unknown)]
    [InlineData(MeterTap.Processing)]
    [InlineData(MeterTap.Fader)]
    public void Meters_that_do_not_read_the_preamp_give_no_trim(MeterTap tap)
    {
        var desk = GateBench.Describe([]) with { Meter = new MeterTraits(0.05, Tap: tap, FollowsMute: false) };

        Assert.Empty(TrimPlanner.Plan(desk, [Usual], Heard(aim: -3), Target, mayRaise: true).Steps);
    }

    [Fact]
    public void A_source_too_hot_for_the_lowest_trim_gets_the_pad_in_behind_a_mute()
    {
        var plan = Plan(Heard(aim: 0), Usual with { Trim = new Decibels(4) });

        Assert.Equal([ProposalKind.Mute, ProposalKind.Pad, ProposalKind.Trim, ProposalKind.Unmute], plan.Steps.Select(step => step.Kind));
        // 4 dB now, 12 dB down and 20 dB of pad back: 12 dB.
        Assert.Equal(SettingValue.Gain(12), plan.Steps[2].To);
    }

    [Fact]
    public void A_pad_left_in_comes_out_only_after_the_trim_came_down()
    {
        var plan = Plan(Heard(aim: -14), Usual with { Trim = new Decibels(58), PadOn = true });

        Assert.Equal(
            [ProposalKind.Mute, ProposalKind.Trim, ProposalKind.Pad, ProposalKind.Trim, ProposalKind.Unmute], plan.Steps.Select(step => step.Kind));
        Assert.Equal((SettingValue.Gain(38), SettingValue.Gain(40)), (plan.Steps[1].To, plan.Steps[3].To));
        Assert.Contains("fader down first", plan.Steps[^1].Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void An_input_that_somebody_else_muted_is_never_unmuted()
    {
        var plan = Plan(Heard(aim: -14), Usual with { Trim = new Decibels(58), PadOn = true, Muted = true });

        Assert.DoesNotContain(plan.Steps, step => step.Kind is ProposalKind.Mute or ProposalKind.Unmute);
    }

    [Fact]
    public void Halves_of_a_pair_with_different_trims_are_left_to_the_engineer() => Assert.Empty(TrimPlanner.Plan(
        GateBench.Describe([]), [Usual, Usual with { Input = 2, Trim = new Decibels(24) }], Heard(aim: -3), Target, mayRaise: true).Steps);

    [Fact]
    public void Without_a_mute_and_a_pad_whose_states_are_known_no_pad_is_moved_and_the_trim_does_what_it_can()
    {
        var hot = Usual with { Trim = new Decibels(4) };
        TrimPlan[] plans =
        [
            Plan(Heard(aim: 0), hot with { Muted = null }),
            Plan(Heard(aim: 0), hot with { PadOn = null }),
            PlanOn(GateBench.Describe([]) with { Mute = null }, Heard(aim: 0), hot),
            PlanOn(GateBench.Describe([]) with { Pad = null }, Heard(aim: 0), hot),
        ];

        Assert.All(plans, plan => Assert.Equal((ProposalKind.Trim, SettingValue.Gain(0)), (Assert.Single(plan.Steps).Kind, plan.Steps[0].To)));
    }

    [Theory]
    [InlineData(52, 1)]
    [InlineData(53, 5)]
    public void A_pad_was_left_in_where_the_trim_has_to_come_within_six_dB_of_its_top(double now, int steps) =>
        Assert.Equal(steps, Plan(Heard(aim: -14), Usual with { Trim = new Decibels(now), PadOn = true }).Steps.Count);

    [Theory]
    [InlineData(58, 5)]
    [InlineData(58.5, 1)]
    public void A_pad_comes_out_only_where_the_lowest_trim_can_hold_what_it_lets_through(double padDb, int steps) =>
        Assert.Equal(steps, PlanOn(GateBench.Describe([]) with { Pad = new PadControl(padDb, []) }, Heard(aim: -14), Usual with { Trim = new Decibels(56), PadOn = true }).Steps.Count);

    [Theory]
    [InlineData(20, 4)]
    [InlineData(20.5, 1)]
    public void A_pad_goes_in_only_where_the_trim_can_make_up_for_it(double padDb, int steps)
    {
        var desk = GateBench.Describe([]) with { Trim = new TrimControl(10, 20, 1, 0.4, Digital: false, []), Pad = new PadControl(padDb, []) };

        Assert.Equal(steps, PlanOn(desk, Heard(aim: 0), Usual with { Trim = new Decibels(12) }).Steps.Count);
    }

    [Theory]
    [InlineData(12.0, 1)]
    [InlineData(11.5, 4)]
    public void A_pad_goes_in_only_where_the_lowest_trim_is_still_too_hot(double now, int steps) =>
        Assert.Equal(steps, Plan(Heard(aim: 0), Usual with { Trim = new Decibels(now) }).Steps.Count);

    [Fact]
    public void During_the_show_no_pad_is_offered_and_the_engineer_hears_why()
    {
        var goesIn = Plan(Heard(aim: 0), Usual with { Trim = new Decibels(4) }, mayRaise: false);
        var wasLeftIn = Plan(Heard(aim: -14), Usual with { Trim = new Decibels(58), PadOn = true }, mayRaise: false);

        Assert.Empty(goesIn.Steps);
        Assert.Empty(wasLeftIn.Steps);
        Assert.Contains("the pad has to go in", goesIn.Advice, StringComparison.Ordinal);
        Assert.Contains("The pad is in", wasLeftIn.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Which_way_the_pad_goes_is_said()
    {
        Assert.Contains("has to go in", Plan(Heard(aim: 0), Usual with { Trim = new Decibels(4) }).Advice, StringComparison.Ordinal);
        Assert.Contains("was it left in", Plan(Heard(aim: -14), Usual with { Trim = new Decibels(58), PadOn = true }).Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-13.0, 0.4, 1)]
    [InlineData(-12.5, 0.4, 0)]
    [InlineData(-13.0, 2.0, 0)]
    [InlineData(-14.0, 2.0, 1)]
    [InlineData(-11.0, 0.4, 1)]
    public void A_change_of_a_whole_step_that_the_desk_can_show_is_proposed_and_no_smaller_one(double aim, double toleranceDb, int steps) =>
        Assert.Equal(steps, PlanOn(GateBench.Describe([]) with { Trim = new TrimControl(0, 60, 1, toleranceDb, Digital: false, []) }, Heard(aim), Usual).Steps.Count);

    [Theory]
    [InlineData(30.25, 1)]
    [InlineData(30.5, 0)]
    public void Halves_of_a_pair_may_differ_by_the_desks_tolerance(double other, int steps)
    {
        var desk = GateBench.Describe([]) with { Trim = new TrimControl(0, 60, 1, 0.25, Digital: false, []) };

        Assert.Equal(steps, TrimPlanner.Plan(desk, [Usual, Usual with { Input = 2, Trim = new Decibels(other) }], Heard(aim: -3), Target, mayRaise: true).Steps.Count);
    }

    [Fact]
    public void A_pair_is_set_by_its_trims_and_never_by_a_pad()
    {
        var hot = Usual with { Trim = new Decibels(4) };
        var plan = TrimPlanner.Plan(GateBench.Describe([]), [hot, hot with { Input = 2 }], Heard(aim: 0), Target, mayRaise: true);

        Assert.Equal((ProposalKind.Trim, SettingValue.Gain(0)), (Assert.Single(plan.Steps).Kind, plan.Steps[0].To));
        Assert.Equal([1, 2], plan.Inputs);
    }

    [Theory]
    [InlineData(-22.0, 50.0, null)]
    [InlineData(-29.0, 50.0, "turn the source up by about 7 dB")]
    [InlineData(-7.0, 5.0, null)]
    [InlineData(-4.0, 5.0, "turn the source down by about 3 dB")]
    public void Where_the_trim_ends_the_engineer_hears_how_far_the_source_is_off(double aim, double now, string? said)
    {
        var plan = PlanOn(GateBench.Describe([]) with { Pad = null }, Heard(aim), Usual with { Trim = new Decibels(now) });

        Assert.Single(plan.Steps);
        if (said is null)
            Assert.Null(plan.Advice);
        else
            Assert.Contains(said, plan.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void What_clipped_in_the_check_is_brought_down_and_asks_for_another_pass()
    {
        var clipped = Heard(aim: -3) with { Prediction = Heard(aim: -3).Prediction! with { LowerBoundOnly = true } };
        var plan = Plan(clipped);

        Assert.Contains("another pass", plan.Advice, StringComparison.Ordinal);
        Assert.Contains("It clipped in the check with 30 dB", Assert.Single(plan.Steps).Reason, StringComparison.Ordinal);
    }

    private static TrimPlan PlanOn(DeskDescription desk, InputReport heard, InputSettings settings) => TrimPlanner.Plan(desk, [settings], heard, Target, mayRaise: true);

    private static TrimPlan Plan(InputReport heard, InputSettings? settings = null, bool mayRaise = true) =>
        TrimPlanner.Plan(GateBench.Describe([]), [settings ?? Usual], heard, Target, mayRaise);

    private static InputReport Heard(double aim) => new(
        1, 40, new Dbfs(-80), new Dbfs(aim - 6), null, null, 0, false,
        new ShowPrediction(new(aim - 8), new(aim - 2), new(aim + 4), new(aim), Confidence.Medium, 4, 2, false), null);
}
