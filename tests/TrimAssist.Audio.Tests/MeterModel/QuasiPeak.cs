using TrimAssist.Audio.MeterModel;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.MeterModel;

/// <summary>Source: EBU Tech 3205-E (2nd edition, November 1979), table 2 and sections 3.3, 3.8, 3.9, 3.10, as quoted in public code.</summary>
public sealed class QuasiPeak
{
    public static TheoryData<int, double, double, double, double> Bursts
    {
        get
        {
            var bursts = new TheoryData<int, double, double, double, double>();
            foreach (var rate in new[] { 44_100, 48_000, 96_000 })
            {
                bursts.Add(rate, 0.1, 5_000, 0, 0.5);
                bursts.Add(rate, 0.01, 5_000, -2, 0.5);
                bursts.Add(rate, 0.005, 5_000, -4, 0.75);
                bursts.Add(rate, 0.0015, 5_000, -9, 1);
                bursts.Add(rate, 0.0005, 10_000, -17, 2);
            }

            return bursts;
        }
    }

    [Theory]
    [MemberData(nameof(Bursts))]
    public void Bursts_read_as_much_below_the_steady_tone_as_the_table_says(int rate, double seconds, double hertz, double expectedDb, double tolerance)
    {
        var steady = new QuasiPeakMeter(rate).Hear(Signals.Sine(-9, 1, hertz, rate: rate));
        var burst = new QuasiPeakMeter(rate).Hear(Signals.Sine(-9, seconds, hertz, rate: rate));

        Assert.Equal(expectedDb, (burst - steady).Value, tolerance);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(1_000)]
    [InlineData(5_000)]
    public void A_steady_sine_reads_its_peak_without_overswing(double hertz)
    {
        var meter = new QuasiPeakMeter(Signals.Rate);
        var highest = meter.Hear(Signals.Sine(-9, 2, hertz)).Value;

        Assert.Equal(-9, highest, 0.5);
        Assert.True(highest <= -9 + 0.5);
    }

    [Fact]
    public void The_burst_that_reads_2_dB_low_lasts_about_10_ms()
    {
        var steady = new QuasiPeakMeter(Signals.Rate).Hear(Signals.Sine(9, 1, 5_000));
        var shortest = Enumerable.Range(1, 40).First(halfMs
            => (new QuasiPeakMeter(Signals.Rate).Hear(Signals.Sine(9, halfMs / 2000.0, 5_000)) - steady).Value >= -2) / 2.0;

        Assert.Equal(10, shortest, 2.0);
    }

    [Fact]
    public void It_reaches_1_dB_below_a_steady_tone_within_150_ms()
    {
        var meter = new QuasiPeakMeter(Signals.Rate);

        Assert.True(meter.Hear(Signals.Sine(9, 0.150, 1_000)).Value >= 8);
    }

    [Fact]
    public void It_returns_24_dB_in_2_8_s_at_nearly_constant_speed()
    {
        var meter = new QuasiPeakMeter(Signals.Rate);
        meter.Hear(Signals.Sine(12, 1, 1_000));
        var levels = Enumerable.Range(0, 310).Select(_ =>
        {
            meter.Hear(Signals.Silence(0.01));
            return meter.Reading.Value;
        }).ToList();

        Assert.Equal(2.8, 0.01 * (1 + levels.FindIndex(level => level <= -12)), 0.3);
        Assert.Equal(1.4, 0.01 * (1 + levels.FindIndex(level => level <= 0)), 0.15);
    }
}
