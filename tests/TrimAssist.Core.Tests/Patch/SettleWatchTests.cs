using CsCheck;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Patch;
using Xunit;

namespace TrimAssist.Core.Tests.Patch;

public sealed class SettleWatchTests
{
    private readonly SettleWatch _watch = new();

    [Theory]
    [InlineData(-100)]
    [InlineData(-61)]
    [InlineData(-30)]
    public void Two_seconds_of_quiet_or_of_a_steady_level_settle(double level)
    {
        Hear(0, 2, _ => level);
        Assert.False(_watch.Settled);
        Hear(2, 2.1, _ => level);

        Assert.True(_watch.Settled);
    }

    [Fact]
    public void Digital_silence_settles()
    {
        Hear(0, 2.1, _ => double.NegativeInfinity);

        Assert.True(_watch.Settled);
        Assert.Equal(new PatchLevels(null, null, 20), _watch.Levels(20));
    }

    [Fact]
    public void A_bang_begins_the_two_seconds_anew()
    {
        Hear(0, 2.1, at => at is > 1.9 and < 2.0 ? -3 : -80);
        Assert.False(_watch.Settled);
        Hear(2.1, 3.9, _ => -80);
        Assert.False(_watch.Settled);
        Hear(3.9, 4.3, _ => -80);

        Assert.True(_watch.Settled);
    }

    [Fact]
    public void Meters_that_stopped_in_between_are_nothing_that_was_heard()
    {
        Hear(0, 1.5, _ => -80);
        Hear(2.2, 3.5, _ => -80);

        Assert.False(_watch.Settled);
    }

    [Fact]
    public void Readings_without_a_level_settle_nothing()
    {
        for (var frame = 1; frame < 100; frame++)
            _watch.Hear(new MeterReading(1, frame * 0.05, float.NaN, float.NaN));

        Assert.False(_watch.Settled);
    }

    [Fact]
    public void Nothing_louder_than_quiet_that_moves_by_more_than_ten_dB_settles() =>
        Gen.Select(Gen.Double[-55, -5], Gen.Double[10.5, 40], Gen.Int[0, 7]).Sample((top, span, phase) =>
        {
            var watch = new SettleWatch();
            for (var frame = 0; frame < 60; frame++)
                watch.Hear(new MeterReading(1, frame * 0.05, (float)((frame / 5) % 8 == phase ? top : top - span), float.NaN));
            return !watch.Settled;
        });

    private void Hear(double fromS, double toS, Func<double, double> level)
    {
        for (var at = fromS + 0.05; at <= toS + 1e-9; at += 0.05)
            _watch.Hear(new MeterReading(1, at, (float)level(at), float.NaN));
    }
}
