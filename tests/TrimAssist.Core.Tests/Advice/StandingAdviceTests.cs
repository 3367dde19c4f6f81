using CsCheck;
using TrimAssist.Core.Advice;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Advice;

public sealed class StandingAdviceTests
{
    private static readonly StageAdvice Hiss = new(AdviceKind.NoiseAfterTrim, "the trim", 6, Saying.Plain("Turn the trim up by 6 dB."), []);
    private static readonly StageAdvice MoreHiss = Hiss with { ByDb = 7, Text = Saying.Plain("Turn the trim up by 7 dB.") };
    private static readonly StageAdvice BoxHiss = Hiss with { Stage = "the box", Text = Saying.Plain("Turn the box up by 6 dB.") };
    private static readonly StageAdvice Clips = new(AdviceKind.EarlierStageClips, "the source", -6, Saying.Plain("Turn the source down by 6 dB."), []);
    private static readonly StageAdvice?[] Judgements = [null, Hiss, MoreHiss, BoxHiss, Clips];

    [Fact]
    public void A_first_sentence_is_said_at_once() => Assert.Equal(Hiss, At((0, null), (1, Hiss)));

    [Fact]
    public void A_sentence_stands_ten_seconds_though_its_condition_went_at_once()
    {
        Assert.Equal(Hiss, At((0, Hiss), (1, null), (9.9, null)));
        Assert.Null(At((0, Hiss), (1, null), (10, null)));
    }

    [Fact]
    public void An_old_sentence_goes_when_its_condition_has_been_gone_for_five_seconds()
    {
        Assert.Equal(Hiss, At((0, Hiss), (60, Hiss), (61, null), (64.9, null)));
        Assert.Null(At((0, Hiss), (60, Hiss), (61, null), (65, null)));
    }

    [Fact]
    public void A_condition_that_comes_back_in_time_keeps_the_sentence() =>
        Assert.Equal(Hiss, At((0, Hiss), (60, Hiss), (64, null), (64.5, Hiss), (69, null)));

    [Fact]
    public void Another_figure_waits_until_the_sentence_has_stood()
    {
        Assert.Equal(Hiss, At((0, Hiss), (9.9, MoreHiss)));
        Assert.Equal(MoreHiss, At((0, Hiss), (9.9, MoreHiss), (10, MoreHiss)));
    }

    [Fact]
    public void Another_stage_waits_until_the_first_has_been_gone()
    {
        Assert.Equal(Hiss, At((0, Hiss), (60, Hiss), (64.9, BoxHiss)));
        Assert.Equal(BoxHiss, At((0, Hiss), (60, Hiss), (65, BoxHiss)));
    }

    [Fact]
    public void What_matters_more_takes_its_place_at_once_and_what_matters_less_waits()
    {
        Assert.Equal(Clips, At((0, Hiss), (1, Clips)));
        Assert.Equal(Clips, At((0, Clips), (1, Hiss), (9.9, Hiss)));
    }

    [Fact]
    public void Whatever_is_judged_no_sentence_gives_way_before_ten_seconds_but_to_what_matters_more() =>
        Gen.Select(Gen.Int[1, 40], Gen.Int[0, Judgements.Length - 1].Select(at => Judgements[at])).Array[1, 60].Sample(judgements =>
        {
            var now = TimeSpan.Zero;
            var standing = StandingAdvice.From(null, now);
            var said = now;
            foreach (var (tenths, judged) in judgements)
            {
                now += TimeSpan.FromSeconds(tenths / 10.0);
                var next = standing.After(judged, now);
                if (next.Advice?.Text != standing.Advice?.Text)
                {
                    if (standing.Advice is { } before && !(next.Advice?.Kind < before.Kind))
                        Assert.True(now - said >= StandingAdvice.Least);
                    said = now;
                }

                standing = next;
            }
        });

    private static StageAdvice? At(params (double Second, StageAdvice? Judged)[] judgements)
    {
        var standing = StandingAdvice.From(judgements[0].Judged, TimeSpan.FromSeconds(judgements[0].Second));
        foreach (var (second, judged) in judgements[1..])
            standing = standing.After(judged, TimeSpan.FromSeconds(second));
        return standing.Advice;
    }
}
