using TrimAssist.Core.Chain;
using Xunit;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>Where no setting fits, exactly the limits that cannot hold together are named.</summary>
public sealed class ChainCollisionTests
{
    [Fact]
    public void A_source_too_hot_for_the_first_input()
    {
        var collision = Chains.From(15, 0, Chains.Stage("pedal", -20, 20).Limits(inDbu: 9), Chains.Stage("preamp", -20, 20)).Collision();
        Assert.Equal([new ChainLimit(null, ChainFigure.Source, 15), new ChainLimit("pedal", ChainFigure.MaxIn, 9)], collision.Limits);
        Assert.Equal(6, collision.ExcessDb, 9);
        Assert.Contains("the input of pedal", collision.Text, StringComparison.Ordinal);
        Assert.Equal("Bring the source down by 6.0 dB, or put that much loss before the input of pedal.", collision.Remedy);
    }

    [Fact]
    public void Lowest_gains_too_high_for_a_later_output_with_its_headroom()
    {
        var chain = Chains.From(0, 0, Chains.Stage("pedal", 10, 20), Chains.Stage("amplifier", 5, 20).Limits(outDbu: 12), Chains.Stage("preamp", -30, 0)) with { Headroom = new(3) };
        var collision = chain.Collision();
        Assert.Equal(
            [
                new ChainLimit(null, ChainFigure.Source, 0), new ChainLimit("pedal", ChainFigure.MinGain, 10), new ChainLimit("amplifier", ChainFigure.MinGain, 5),
                new ChainLimit("amplifier", ChainFigure.MaxOut, 12), new ChainLimit(null, ChainFigure.Headroom, 3),
            ],
            collision.Limits);
        Assert.Equal(6, collision.ExcessDb, 9);
    }

    [Fact]
    public void Highest_gains_too_low_for_the_target()
    {
        var collision = Chains.From(-60, 0, Chains.Stage("DI", -20, -20), Chains.Stage("preamp", 0, 40)).Collision();
        Assert.Equal(
            [new(null, ChainFigure.Source, -60), new("DI", ChainFigure.MaxGain, -20), new("preamp", ChainFigure.MaxGain, 40), new(null, ChainFigure.Target, 0)],
            collision.Limits);
        Assert.Equal(40, collision.ExcessDb, 9);
        Assert.Contains("40.0 dB under the target", collision.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_ceiling_in_the_middle_that_keeps_the_end_from_the_target()
    {
        var collision = Chains.From(-20, 10, Chains.Stage("pedal", 0, 40).Limits(outDbu: -5), Chains.Stage("preamp", 0, 10)).Collision();
        Assert.Equal([new("pedal", ChainFigure.MaxOut, -5), new("preamp", ChainFigure.MaxGain, 10), new ChainLimit(null, ChainFigure.Target, 10)], collision.Limits);
        Assert.Equal(5, collision.ExcessDb, 9);
    }

    [Fact]
    public void Lowest_gains_over_the_target()
    {
        var collision = Chains.From(0, -10, Chains.Stage("preamp", 0, 40)).Collision();
        Assert.Equal([new(null, ChainFigure.Source, 0), new("preamp", ChainFigure.MinGain, 0), new ChainLimit(null, ChainFigure.Target, -10)], collision.Limits);
        Assert.Contains("over the target", collision.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_target_above_the_last_outputs_limit()
    {
        var collision = Chains.From(0, 10, Chains.Stage("preamp", 0, 40).Limits(outDbu: 6)).Collision();
        Assert.Equal([new("preamp", ChainFigure.MaxOut, 6), new ChainLimit(null, ChainFigure.Target, 10)], collision.Limits);
    }

    [Fact]
    public void With_a_pad_the_collision_that_is_left_is_named()
    {
        var collision = Chains.From(40, 0, Chains.Stage("preamp", 0, 40).Limits(inDbu: 10).Padded(20)).Collision();
        Assert.Equal(20, collision.ExcessDb, 9);
        Assert.Contains(new ChainLimit("preamp", ChainFigure.Pad, 20), collision.Limits);
    }

    [Fact]
    public void Less_than_a_step_short_of_the_target_is_no_collision()
    {
        Assert.Equal([40], Chains.From(-40.5, 0, Chains.Stage("preamp", 0, 40)).Planned().Gains());
        Assert.Equal(1, Chains.From(-41, 0, Chains.Stage("preamp", 0, 40)).Collision().ExcessDb, 9);
    }

    [Fact]
    public void What_clips_today_is_said_even_where_nothing_fits()
    {
        var answer = ChainPlanner.Plan(Chains.From(15, 0, Chains.Stage("pedal", -20, 20).Limits(inDbu: 9).NowAt(0)));
        Assert.IsType<ChainInfeasible>(answer);
        Assert.Contains("Today the input of pedal clips: its peak is 6.0 dB over its limit.", answer.Advice);
    }
}
