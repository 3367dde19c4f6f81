using TrimAssist.Core.Advice;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Tests.Chain;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Advice;

public sealed class StageAdviserTests
{
    [Fact]
    public void Where_nothing_speaks_against_the_chain_nothing_is_said()
    {
        Assert.Null(StageAdviser.Of(Evidence.Of()));
        Assert.Null(StageAdviser.Of(Evidence.Of(aim: -14.5, chain: Evidence.Bass())));
    }

    [Fact]
    public void A_flat_top_below_full_scale_without_a_chain_is_an_earlier_stages_and_no_trim_cures_it()
    {
        var advice = StageAdviser.Of(Evidence.Of(flatTop: true, peak: -7))!;

        Assert.Equal((AdviceKind.EarlierStageClips, "the source", -6.0), (advice.Kind, advice.Stage, advice.ByDb));
        Assert.Equal(["the peaks pile up at -7.0 dBFS"], advice.Evidence);
    }

    // The booster's output of 4 dBu comes to 4 − 10 + trim at the end: with 30 dB of trim to 24 dBu, with 18 dB to 12 dBu, −6 dBFS.
    [Fact]
    public void A_flat_top_where_a_stages_limit_shows_names_that_stage()
    {
        var advice = StageAdviser.Of(Evidence.Of(trim: 18, flatTop: true, peak: -6.4, chain: Evidence.Bass(boosterNow: 12)))!;

        Assert.Equal((AdviceKind.EarlierStageClips, "booster", -6.0), (advice.Kind, advice.Stage, advice.ByDb));
        Assert.StartsWith("Turn booster down by 6 dB and make it up with preamp if it is missed: the output of booster clips", advice.Text, StringComparison.Ordinal);
        Assert.Equal("the output of booster would flatten them at -6.0 dBFS by its limit of 4.0 dBu", advice.Evidence[^1]);
    }

    [Fact]
    public void An_input_that_clips_is_spared_by_its_own_pad_first()
    {
        var box = Evidence.Bass(boosterOut: 40) with { Headroom = new Decibels(3) };
        var chain = box with { Stages = [box.Stages[0], box.Stages[1] with { MaxIn = new Dbu(2) }, .. box.Stages.Skip(2)] };

        // 2 dBu at the box's input, less 10, and 18 dB of trim: 10 dBu, −8 dBFS.
        var advice = StageAdviser.Of(Evidence.Of(trim: 18, flatTop: true, peak: -8, chain: chain))!;

        Assert.Equal(("box", -20.0), (advice.Stage, advice.ByDb));
        Assert.StartsWith("Put the pad of box in (20 dB)", advice.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-7, "the source")]
    [InlineData(-13, "what follows the trim")]
    public void A_flat_top_that_follows_the_trim_was_there_before_it_and_one_that_stays_is_made_behind_it(double plateauAtTheHigherTrim, string stage)
    {
        GainStretch[] stretches = [new(24, null, -13), new(30, null, plateauAtTheHigherTrim)];

        Assert.Equal(stage, StageAdviser.Of(Evidence.Of(flatTop: true, peak: plateauAtTheHigherTrim, stretches: stretches))!.Stage);
    }

    [Fact]
    public void The_desks_pad_is_called_left_in_when_the_trim_makes_up_for_it()
    {
        var advice = StageAdviser.Of(Evidence.Of(aim: -13, trim: 56, padOn: true))!;

        Assert.Equal((AdviceKind.PadLeftIn, "the pad", 20.0), (advice.Kind, advice.Stage, advice.ByDb));
        // With the trim in the middle the pad is there for a reason.
        Assert.Null(StageAdviser.Of(Evidence.Of(aim: -13, trim: 30, padOn: true)));
    }

    // The chain promises −22 + 10 − 10 + 40 = 18 dBu, 0 dBFS.
    [Theory]
    [InlineData(-19, true)]
    [InlineData(-22.5, true)]
    [InlineData(-10, false)]
    [InlineData(-40, false)]
    public void A_pad_further_up_the_chain_is_suspected_when_about_so_much_level_is_missing(double heard, bool suspected)
    {
        var advice = StageAdviser.Of(Evidence.Of(aim: heard + 2, trim: 40, chain: Evidence.Bass()));

        Assert.Equal(suspected, advice is { Kind: AdviceKind.PadLeftIn, Stage: "box", ByDb: 20 });
    }

    [Fact]
    public void A_trim_at_its_top_asks_for_more_from_the_stage_that_has_room()
    {
        var soft = StageAdviser.Of(Evidence.Of(aim: -20, trim: 58))!;
        // Heard at −22 dBFS with 58 dB: the source is about as soft as −52 dBu.
        var chain = StageAdviser.Of(Evidence.Of(aim: -20, trim: 58, chain: Unpadded(Evidence.Bass())))!;

        Assert.Equal((AdviceKind.TrimAtItsEnd, "the source", 12.0), (soft.Kind, soft.Stage, soft.ByDb));
        Assert.Equal((AdviceKind.TrimAtItsEnd, "booster", 10.0), (chain.Kind, chain.Stage, chain.ByDb));
        Assert.Null(StageAdviser.Of(Evidence.Of(aim: -12, trim: 57)));
    }

    [Fact]
    public void A_source_too_hot_for_the_lowest_trim_gets_the_pad_or_is_turned_down()
    {
        Assert.Equal(("the pad", -20.0), Named(StageAdviser.Of(Evidence.Of(aim: -2, trim: 4))!));
        Assert.Equal(("the source", -6.0), Named(StageAdviser.Of(Evidence.Of(aim: -2, trim: 4, padOn: true))!));
    }

    [Fact]
    public void A_clipped_check_asks_for_nothing_up() => Assert.Null(StageAdviser.Of(Evidence.Of(aim: -20, trim: 58, clipped: true)));

    [Fact]
    public void Noise_that_moves_with_the_trim_comes_from_before_it()
    {
        var advice = StageAdviser.Of(Evidence.Of(stretches: [new(18, -62, null), new(30, -50, null)]))!;

        Assert.Equal((AdviceKind.NoiseBeforeTrim, "the source", 4.0), (advice.Kind, advice.Stage, advice.ByDb));
        Assert.Contains("noise at -50.0 dBFS with 30 dB of gain: it moved by 12.0 dB when the gain moved by 12.0 dB", advice.Evidence);
    }

    [Fact]
    public void Noise_of_the_preamp_sends_more_level_from_the_stage_before_it()
    {
        var advice = StageAdviser.Of(Evidence.Of(aim: -14, trim: 40, loud: -30, stretches: [new(18, -68, null), new(40, -46, null)], chain: Quiet()))!;

        Assert.Equal((AdviceKind.NoiseBeforeTrim, "booster", 20.0), KindOf(advice));
        Assert.Contains("most of the noise is made by preamp", advice.Text, StringComparison.Ordinal);
        Assert.Contains(advice.Evidence, line => line.StartsWith("by its figures the chain makes", StringComparison.Ordinal));
    }

    [Fact]
    public void Noise_that_comes_with_the_source_is_nobody_elses()
    {
        var chain = Quiet() with { SourceNoise = new Dbu(-60) };
        var advice = StageAdviser.Of(Evidence.Of(aim: -14, trim: 40, loud: -30, stretches: [new(18, -68, null), new(40, -46, null)], chain: chain))!;

        Assert.Equal(("the source", null), Named(advice));
    }

    [Fact]
    public void Noise_that_stays_comes_from_behind_the_trim_which_goes_up_where_there_is_room()
    {
        GainStretch[] stays = [new(18, -50, null), new(30, -50, null)];

        Assert.Equal((AdviceKind.NoiseAfterTrim, "the trim", 5.0), KindOf(StageAdviser.Of(Evidence.Of(aim: -17.5, stretches: stays))!));
        Assert.Equal((AdviceKind.NoiseAfterTrim, "what follows the trim", null), KindOf(StageAdviser.Of(Evidence.Of(aim: -12, stretches: stays))!));
    }

    [Theory]
    [InlineData(-90)]
    [InlineData(-56)]
    public void Noise_that_nobody_hears_is_not_worth_a_word(double floor) =>
        Assert.Null(StageAdviser.Of(Evidence.Of(stretches: [new(18, floor - 12, null), new(30, floor, null)])));

    [Fact]
    public void Noise_heard_at_one_trim_only_tells_nothing() => Assert.Null(StageAdviser.Of(Evidence.Of(stretches: [new(30, -50, null)])));

    [Fact]
    public void Limits_that_cannot_hold_together_leave_the_plain_advice()
    {
        // The box takes less than the booster gives at its lowest.
        var bass = Unpadded(Evidence.Bass());
        var chain = bass with { Stages = [bass.Stages[0], bass.Stages[1] with { MaxIn = new Dbu(-80) }, .. bass.Stages.Skip(2)] };

        Assert.Equal(("the source", 12.0), Named(StageAdviser.Of(Evidence.Of(aim: -20, trim: 58, chain: chain))!));
    }

    [Fact]
    public void A_chain_that_does_not_say_what_full_scale_is_or_how_it_is_set_is_still_good_for_names()
    {
        var chain = Evidence.Bass() with { FullScale = null };
        var unset = Evidence.Bass();
        unset = unset with { Stages = [unset.Stages[0] with { Now = null }, .. unset.Stages.Skip(1)] };

        Assert.NotNull(StageAdviser.Of(Evidence.Of(flatTop: true, peak: -7, chain: chain)));
        Assert.NotNull(StageAdviser.Of(Evidence.Of(flatTop: true, peak: -7, chain: unset)));
        Assert.NotNull(StageAdviser.Of(Evidence.Of(stretches: [new(18, -62, null), new(30, -50, null)], chain: unset)));
    }

    private static SignalChain Quiet()
    {
        var bass = Unpadded(Evidence.Bass(boosterNow: 0));
        return bass with { SourceNoise = null, Stages = [bass.Stages[0].Hiss(-140), .. bass.Stages.Skip(1)] };
    }

    private static SignalChain Unpadded(SignalChain chain) => chain with { Stages = [.. chain.Stages.Select(stage => stage with { Pad = null })] };

    private static (string Stage, double? ByDb) Named(StageAdvice advice) => (advice.Stage, advice.ByDb);

    private static (AdviceKind Kind, string Stage, double? ByDb) KindOf(StageAdvice advice) => (advice.Kind, advice.Stage, advice.ByDb);
}
