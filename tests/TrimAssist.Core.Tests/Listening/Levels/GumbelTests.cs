using TrimAssist.Core.Listening.Levels;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Levels;

public sealed class GumbelTests
{
    // Gumbel 1958; NIST/SEMATECH e-Handbook 1.3.6.6.16.
    [Fact]
    public void The_deviation_is_that_of_the_handbook() => Assert.Equal(2 * 1.282550, Gumbel.Deviation(2), 5);

    [Theory]
    [InlineData(2, 0.693)]
    [InlineData(10, 2.303)]
    [InlineData(30, 3.401)]
    [InlineData(60, 4.094)]
    public void The_highest_of_k_times_as_many_grows_by_scale_times_ln_k(double times, double scales)
    {
        Assert.Equal(scales, Gumbel.Growth(1, times), 3);
        Assert.Equal(1.5 * scales, Gumbel.Growth(1.5, times), 2);
    }

    // Drawn from the law itself, not from its formulas: the highest of k draws, many times over.
    [Fact]
    public void Numbers_drawn_from_the_law_spread_and_grow_as_it_says()
    {
        const int Times = 10;
        var random = new Random(11);
        var one = Enumerable.Range(0, 20_000).Select(_ => Draw(random)).ToArray();
        var highest = Enumerable.Range(0, 20_000).Select(_ => Enumerable.Range(0, Times).Max(_ => Draw(random))).ToArray();
        var mean = one.Average();
        Assert.Equal(Gumbel.Deviation(1), Math.Sqrt(one.Average(x => (x - mean) * (x - mean))), 0.05);
        Assert.Equal(Gumbel.Growth(1, Times), highest.Average() - mean, 0.05);
    }

    // By inversion of F(x) = exp(−exp(−x)).
    private static double Draw(Random random) => -Math.Log(-Math.Log(1 - random.NextDouble()));
}
