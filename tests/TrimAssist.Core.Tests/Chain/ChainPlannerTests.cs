using TrimAssist.Core.Chain;
using Xunit;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>What the planner does with chains small enough to work out by hand.</summary>
public sealed class ChainPlannerTests
{
    [Fact]
    public void Gain_goes_as_early_as_nothing_forbids_it()
    {
        var plan = Chains.From(-20, 0, Chains.Stage("first", 0, 20).Hiss(-90), Chains.Stage("second", 0, 20).Hiss(-80)).Planned();
        Assert.Equal([20, 0], plan.Gains());
        Assert.Equal(79.586, plan.Levels.SignalToNoise!.Value.Value, 0.001);
    }

    [Fact]
    public void An_output_limit_holds_the_gain_back_and_the_next_stage_makes_up_for_it()
    {
        var plan = Chains.From(-20, 10, Chains.Stage("pedal", 0, 40).Limits(outDbu: 2).Hiss(-80), Chains.Stage("preamp", 0, 40).Hiss(-85)).Planned();
        Assert.Equal([22, 8], plan.Gains());
    }

    [Fact]
    public void An_input_limit_further_on_holds_every_gain_before_it_back()
    {
        var plan = Chains.From(
            -30, 0, Chains.Stage("amplifier", 0, 40).Hiss(-80), Chains.Stage("cable box", 5, 5), Chains.Stage("converter", 0, 20).Limits(inDbu: -10).Hiss(-90)).Planned();
        Assert.Equal([15, 5, 10], plan.Gains());
    }

    [Fact]
    public void Headroom_is_kept_at_every_limit()
    {
        var chain = Chains.From(-20, 10, Chains.Stage("pedal", 0, 40).Limits(outDbu: 2).Hiss(-80), Chains.Stage("preamp", 0, 40).Hiss(-85));
        Assert.Equal([16, 14], (chain with { Headroom = new(6) }).Planned().Gains());
    }

    [Fact]
    public void Steps_round_towards_less_and_never_pass_the_target()
    {
        var plan = Chains.From(-20.5, 0, Chains.Stage("preamp", 0, 60, 3).Ein(-125)).Planned();
        Assert.Equal([18], plan.Gains());
        Assert.Equal(-2.5, plan.Levels.Stages[^1].PeakOut.Value, 9);
        Assert.Contains(plan.Advice, sentence => sentence.Contains("2.5 dB under the target", StringComparison.Ordinal));
    }

    [Fact]
    public void A_limit_that_is_met_exactly_is_kept()
    {
        var plan = Chains.From(-0.1, 0.2, Chains.Stage("preamp", 0, 1, 0.1).Limits(outDbu: 0.2).Ein(-120)).Planned();
        Assert.Equal(0.3, plan.Gains().Single(), 9);
    }

    [Fact]
    public void A_misaligned_step_is_seen_through()
    {
        // Rounding stage by stage would take 3 first and leave 6 more out of reach under the ceiling; 2 and 6 are quieter together.
        var plan = Chains.From(0, 100, Chains.Stage("a", 0, 3, 1), Chains.Stage("b", 0, 6, 6).Limits(outDbu: 8).Hiss(-50), Chains.Stage("c", 92, 92).Hiss(30)).Planned();
        Assert.Equal([2, 6, 92], plan.Gains());
    }

    [Fact]
    public void A_pad_comes_in_only_when_it_must()
    {
        ChainStage preamp = Chains.Stage("preamp", 0, 60).Limits(inDbu: 10).Padded(20).Ein(-127);
        Assert.False(Chains.From(5, 10, preamp).Planned().Settings[0].PadIn);
        var hot = Chains.From(18, 10, preamp).Planned();
        Assert.True(hot.Settings[0].PadIn);
        Assert.Equal([12], hot.Gains());
        Assert.Equal(12, hot.Levels.Stages[0].HeadroomIn!.Value.Value, 9);
    }

    [Fact]
    public void A_pad_costs_its_loss_beside_equivalent_input_noise()
    {
        var chain = Chains.From(0, 0, Chains.Stage("preamp", 0, 60).Padded(20).Ein(-127));
        Assert.Equal(127, ChainLevels.At(chain, [new(new(0), false)]).SignalToNoise!.Value.Value, 9);
        Assert.Equal(107, ChainLevels.At(chain, [new(new(20), true)]).SignalToNoise!.Value.Value, 9);
    }

    [Fact]
    public void What_clips_first_is_the_nearest_limit_and_full_scale_counts()
    {
        var chain = Chains.From(-20, 6, Chains.Stage("preamp", 0, 40).Limits(outDbu: 20).Ein(-125), Chains.Stage("converter", 0, 0).Hiss(-90)) with { FullScale = new(18) };
        var first = chain.Planned().ClipsFirst!;
        Assert.Equal((1, false), (first.Stage, first.AtInput));
        Assert.Equal(12, first.Margin.Value, 9);
        Assert.Null(Chains.From(0, 0, Chains.Stage("wire", 0, 0)).Planned().ClipsFirst);
    }

    [Fact]
    public void Without_noise_figures_gain_still_goes_early_and_no_ratio_is_invented()
    {
        var plan = Chains.From(-20, 0, Chains.Stage("first", 0, 20), Chains.Stage("second", 0, 20)).Planned();
        Assert.Equal([20, 0], plan.Gains());
        Assert.Null(plan.Levels.SignalToNoise);
        Assert.Null(plan.Levels.Stages[0].NoiseOut);
    }

    [Fact]
    public void Todays_ratio_is_known_only_when_every_setting_is()
    {
        var first = Chains.Stage("first", 0, 20).Hiss(-90);
        var second = Chains.Stage("second", 0, 20).Hiss(-80);
        Assert.Null(ChainPlanner.Plan(Chains.From(-20, 0, first.NowAt(0), second)).Today);
        Assert.Equal(69.586, ChainPlanner.Plan(Chains.From(-20, 0, first.NowAt(0), second.NowAt(20))).Today!.SignalToNoise!.Value.Value, 0.001);
    }

    [Fact]
    public void Advice_names_the_stage_the_change_and_what_it_buys()
    {
        var plan = Chains.From(-20, 0, Chains.Stage("first", 0, 20).Hiss(-90).NowAt(0), Chains.Stage("second", 0, 20).Hiss(-80).NowAt(20)).Planned();
        Assert.Contains("first: turn up by 20.0 dB, from 0.0 to 20.0 dB. It buys 10.0 dB of signal-to-noise over the best that the others could do without it.", plan.Advice);
        Assert.Contains(plan.Advice, sentence => sentence.StartsWith("second: turn down by 20.0 dB", StringComparison.Ordinal));
        Assert.Contains("91% of the noise that is left comes from second.", plan.Advice.Select(sentence => sentence.Replace(" %", "%", StringComparison.Ordinal)));
    }

    [Fact]
    public void Advice_says_what_clips_today_and_which_pad_to_move()
    {
        var plan = Chains.From(0, 0, Chains.Stage("preamp", 0, 60).Limits(outDbu: 10).Padded(20, inNow: true).Ein(-127).NowAt(40)).Planned();
        Assert.Contains(plan.Advice, sentence => sentence.StartsWith("preamp: take the pad out (20 dB) and turn down by 40.0 dB", StringComparison.Ordinal));
        Assert.Contains("Today the output of preamp clips: its peak is 10.0 dB over its limit.", plan.Advice);
    }

    [Fact]
    public void Equivalent_input_noise_under_the_thermal_noise_is_doubted()
    {
        var plan = Chains.From(-60, 0, Chains.Stage("preamp", 0, 60).Ein(-133)).Planned();
        Assert.Contains(plan.Advice, sentence => sentence.Contains("thermal noise", StringComparison.Ordinal));
        Assert.DoesNotContain(Chains.From(-60, 0, Chains.Stage("preamp", 0, 60).Ein(-129)).Planned().Advice, sentence => sentence.Contains("thermal", StringComparison.Ordinal));
    }

    [Fact]
    public void A_loop_around_a_sensitive_pedal_is_sent_down_to_it_and_brought_up_behind_it()
    {
        var plan = Chains.From(
            -20, 0, Chains.Stage("booster", 0, 20).Limits(outDbu: 10), Chains.Stage("send", -30, 0), Chains.Stage("pedal", 0, 0).Limits(inDbu: -10).Hiss(-95),
            Chains.Stage("return", 0, 30).Ein(-110)).Planned();
        Assert.Equal([20, -10, 0, 10], plan.Gains());
    }

    [Fact]
    public void An_amplifier_with_gain_and_volume_makes_its_gain_first_and_takes_the_rest_back_by_its_volume()
    {
        var plan = Chains.From(
            -30, 0, Chains.Stage("gain", 0, 40).Limits(outDbu: 12).Ein(-120), Chains.Stage("volume", -40, 0), Chains.Stage("preamp", 0, 60).Ein(-126)).Planned();
        Assert.Equal([40, -10, 0], plan.Gains());
    }

    [Fact]
    public void Swapping_neighbours_is_planned_like_any_chain()
    {
        var chain = Chains.From(-40, 0, Chains.Stage("long cable", -6, -6).Hiss(-90), Chains.Stage("booster", 0, 46).Ein(-120));
        var swap = Assert.Single(SwappedOrder.AllOf(chain));
        Assert.Equal(("long cable", "booster"), (swap.First, swap.Second));
        var swapped = Assert.IsType<ChainPlan>(swap.Answer);
        Assert.Equal([46, -6], swapped.Gains());
        Assert.True(swapped.Levels.SignalToNoise > chain.Planned().Levels.SignalToNoise);
    }

    [Fact]
    public void A_chain_that_cannot_be_searched_is_refused_with_a_reason()
    {
        Assert.Throws<ArgumentException>(() => ChainPlanner.Plan(Chains.From(0, 0)));
        Assert.NotNull(ChainPlanner.TooMuch(Chains.From(0, 0, [.. Enumerable.Range(0, 11).Select(number => Chains.Stage($"{number}", 0, 1).Padded(10))])));
        Assert.NotNull(ChainPlanner.TooMuch(Chains.From(0, 0, [.. Enumerable.Range(0, 8).Select(number => Chains.Stage($"{number}", -100, 100, 0.001))])));
        Assert.Null(ChainPlanner.TooMuch(Chains.From(0, 0, [.. Enumerable.Range(0, 8).Select(number => Chains.Stage($"{number}", -20, 60, 0.1))])));
    }
}
