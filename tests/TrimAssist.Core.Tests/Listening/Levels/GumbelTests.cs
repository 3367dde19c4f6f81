using TrimAssist.Core.Listening.Levels;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Levels;

public sealed class GumbelTests
{
    // Gumbel 1958; NIST/SEMATECH e-Handbook 1.3.6.6.16.
    [Fact]
    public void Mean_median_and_deviation_are_those_of_the_handbook()
    {
        var law = new Gumbel(10, 2);
        Assert.Equal(10 + (2 * 0.577216), law.Mean, 5);
        Assert.Equal(10 + (2 * 0.366513), law.Median, 5);
        Assert.Equal(2 * 1.282550, law.Deviation, 5);
    }

    [Theory]
    [InlineData(10, 2.2504)]
    [InlineData(20, 2.9702)]
    [InlineData(50, 3.9019)]
    [InlineData(100, 4.6001)]
    public void Return_levels_are_the_tabulated_reduced_variates(double blocks, double expected) =>
        Assert.InRange(new Gumbel(0, 1).ReturnLevel(blocks), expected - 1e-4, expected + 1e-4);

    [Theory]
    [InlineData(2, 0.693)]
    [InlineData(10, 2.303)]
    [InlineData(30, 3.401)]
    [InlineData(60, 4.094)]
    public void The_highest_of_k_times_as_many_grows_by_scale_times_ln_k(double times, double scales)
    {
        Assert.Equal(scales, Gumbel.Growth(1, times), 3);
        Assert.Equal(new Gumbel(0, 1.5).Mean + (1.5 * scales), new Gumbel(0, 1.5).Over(times).Mean, 2);
    }

    [Fact]
    public void Moments_give_back_the_law_that_made_the_numbers()
    {
        var random = new Random(11);
        var law = new Gumbel(-20, 1.5);
        var drawn = Enumerable.Range(0, 20_000).Select(_ => law.Quantile(1 - random.NextDouble())).ToArray();
        var fitted = Gumbel.Fit(drawn);
        Assert.Equal(law.Location, fitted.Location, 0.05);
        Assert.Equal(law.Scale, fitted.Scale, 0.05);
    }
}
