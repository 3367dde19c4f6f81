using CsCheck;
using TrimAssist.Core.Listening.Levels;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Levels;

public sealed class QuantileTests
{
    // NIST/SEMATECH e-Handbook 7.2.6.2: resistivities of twelve wafers. Its own method (R6) gives 95.19807 for the 90th percentile;
    // Hyndman and Fan's R7 (Am. Stat. 50:361, 1996), which is used here, gives 95.19568.
    private static readonly double[] Resistivities =
        [95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.0610, 95.1591, 95.1195, 95.1065, 95.0925, 95.1990, 95.1682];

    [Theory]
    [InlineData(0, 95.0610)]
    [InlineData(0.5, 95.1579)]
    [InlineData(0.9, 95.19568)]
    [InlineData(0.95, 95.19729)]
    [InlineData(1, 95.1990)]
    public void The_wafers_of_the_nist_handbook_have_the_quantiles_of_method_R7(double p, double expected) =>
        Assert.InRange(Quantile.Of(Resistivities, p), expected - 1e-5, expected + 1e-5);

    [Fact]
    public void No_numbers_have_no_quantile_and_NaN_is_no_number()
    {
        Assert.Equal(double.NaN, Quantile.Of([], 0.5));
        Assert.Equal(3, Quantile.Of([double.NaN, 3, double.NaN], 0.9));
    }

    [Fact]
    public void A_quantile_moves_with_its_numbers_grows_with_its_rank_and_does_not_ask_for_their_order()
    {
        var some = Gen.Double[-120, 20].Array[1, 60];
        Gen.Select(some, Gen.Double[0, 1], Gen.Double[-30, 30], Gen.Double[0.1, 4]).Sample((numbers, p, shift, scale) =>
        {
            var plain = Quantile.Of(numbers, p);
            Assert.Equal(plain, Quantile.Of([.. numbers.Reverse()], p));
            Assert.Equal((plain * scale) + shift, Quantile.Of([.. numbers.Select(x => (x * scale) + shift)], p), 9);
            Assert.True(Quantile.Of(numbers, p / 2) <= plain);
            Assert.InRange(plain, numbers.Min(), numbers.Max());
        });
    }

    [Fact]
    public void Selecting_says_what_sorting_says() =>
        Gen.Select(Gen.Frequency((8, Gen.Double[-60, 0]), (2, Gen.Int[-3, 3].Select(level => (double)level)), (1, Gen.Const(double.NaN))).Array[0, 60], Gen.Double[0, 1])
            .Sample((numbers, p) => Quantile.Of(numbers, p).Equals(Quantile.OfSorted(Quantile.Sorted(numbers), p)));
}
