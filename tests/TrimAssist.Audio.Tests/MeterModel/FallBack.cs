using TrimAssist.Audio.MeterModel;

namespace TrimAssist.Audio.Tests.MeterModel;

/// <summary>Sources: wording of IEC TR 60268-18:1995 as quoted in public code (20 dB in 1.7 s ± 0.3 s, hold 1.0 s ± 0.5 s); IEC 60268-10 type I gives the same return.</summary>
public sealed class FallBack
{
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.05)]
    [InlineData(0.1)]
    public void Falls_20_dB_in_1_7_s_at_constant_speed(double frameS)
    {
        var meter = new FallBackMeter(FallBackMeter.DigitalPeakMeterDbPerS);
        meter.Show(-6, frameS);

        Assert.Equal(1.7, SecondsUntil(meter, -26, frameS), 0.3);
        Assert.Equal(1.7, SecondsUntil(meter, -46, frameS), 0.3);
    }

    [Fact]
    public void Holds_its_maximum_for_a_second_before_it_falls()
    {
        var meter = new FallBackMeter(FallBackMeter.DigitalPeakMeterDbPerS, holdS: 1);
        meter.Show(-6, 0.05);

        Assert.All(Enumerable.Range(0, 20), _ => Assert.Equal(-6, meter.Show(-60, 0.05), 1e-9));
        Assert.Equal(1.7, SecondsUntil(meter, -26, 0.05), 0.1);
    }

    [Fact]
    public void Rises_at_once_and_never_reads_below_the_frame()
    {
        var meter = new FallBackMeter(12);
        meter.Show(-60, 0.1);

        Assert.Equal(-3, meter.Show(-3, 0.1));
        Assert.Equal(-4.2, meter.Show(-40, 0.1), 1e-9);
        Assert.Equal(-4, meter.Show(-4, 0.1));
    }

    [Fact]
    public void Without_a_speed_each_frame_shows_its_own_peak()
    {
        var meter = new FallBackMeter(0);
        meter.Show(-3, 0.05);

        Assert.Equal(-70, meter.Show(-70, 0.05));
        Assert.Equal(double.NegativeInfinity, meter.Show(double.NegativeInfinity, 0.05));
    }

    [Fact]
    public void In_silence_it_falls_to_the_bottom_and_then_shows_silence()
    {
        var meter = new FallBackMeter(12);
        meter.Show(0, 1);
        double[] shown = [.. Enumerable.Range(0, 16).Select(_ => meter.Show(double.NegativeInfinity, 1))];

        Assert.Equal(FallBackMeter.Bottom + 8, shown[^1], 1e-9);
        Assert.Equal(double.NegativeInfinity, meter.Show(double.NegativeInfinity, 1));
    }

    private static double SecondsUntil(FallBackMeter meter, double level, double frameS)
    {
        var frames = 1;
        while (meter.Show(double.NegativeInfinity, frameS) > level)
            frames++;
        return frames * frameS;
    }
}
