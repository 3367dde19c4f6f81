using CsCheck;
using TrimAssist.Core.Checks;
using Xunit;

namespace TrimAssist.Core.Tests.Checks;

public sealed class EvenFadersTests
{
    private static readonly Gen<double[]> Levels = Gen.Double[-60, 0].Array[0, 24];

    [Fact]
    public void No_input_is_ever_turned_up_or_down_by_more_than_the_most() => Gen.Select(Levels, Gen.Double[0.1, 6]).Sample((levels, step) =>
        EvenFaders.Lowerings(levels, step).All(db => db >= 0 && db <= EvenFaders.MostDb));

    [Fact]
    public void The_spread_is_never_larger_than_before_whatever_the_steps() => Gen.Select(Levels, Gen.Double[0.1, 6]).Sample((levels, step) =>
        SpreadAfter(levels, step) <= (FaderSpread.Of(levels) ?? 0) + 1e-9);

    [Fact]
    public void With_fine_steps_a_spread_within_the_most_is_closed() => Gen.Double[-30, -30 + EvenFaders.MostDb].Array[2, 24].Sample(levels =>
        SpreadAfter(levels, 0.1) <= 0.1 + 1e-9);

    [Fact]
    public void Each_input_comes_down_in_whole_steps_to_the_softest() =>
        Assert.Equal([0, 2, 4], EvenFaders.Lowerings([-30, -27.2, -25.5], 2));

    [Fact]
    public void One_soft_input_does_not_drag_the_others_down_without_end() =>
        Assert.Equal([0, 5, 6], EvenFaders.Lowerings([-50, -25, -24], 1));

    private static double SpreadAfter(double[] levels, double step)
    {
        var lower = EvenFaders.Lowerings(levels, step);
        return FaderSpread.Of([.. levels.Select((level, index) => level - lower[index])]) ?? 0;
    }
}
