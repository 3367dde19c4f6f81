using CsCheck;
using TrimAssist.Audio.MeterModel;
using TrimAssist.Audio.Samples;
using TrimAssist.Audio.Tests.Kit;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio.Tests.MeterModel;

public sealed class Frames
{
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.05)]
    [InlineData(0.1)]
    public void Each_frame_tells_peak_and_RMS_of_every_input_at_its_end(double frameS)
    {
        var loud = Signals.Sine(-6, 1);
        var late = Signals.Silence(0.5).Then(Signals.Sine(-20, 0.5));

        var readings = Told(new MeterTraits(frameS), Signals.Rate, loud, late);

        Assert.Equal(2 * (int)Math.Round(1 / frameS), readings.Count);
        Assert.All(readings.Where(r => r.Input == 1), r => Assert.Equal((-6, -6), (Math.Round(r.PeakDbfs, 2), Math.Round(r.RmsDbfs, 2))));
        Assert.All(readings.Where(r => r.Input == 2), r =>
            Assert.Equal(r.TimeS <= 0.5 ? double.NegativeInfinity : -20, Math.Round(r.RmsDbfs, 2)));
        Assert.Equal(frameS, readings[0].TimeS, 1e-9);
        Assert.Equal(1.0, readings[^1].TimeS, 1e-9);
    }

    [Fact]
    public void Frames_that_are_no_whole_number_of_samples_never_drift()
    {
        var readings = Told(new MeterTraits(0.05), 22_050, new double[22_050 * 10]);

        Assert.Equal(200, readings.Count);
        Assert.All(readings.Index(), r => Assert.Equal((r.Index + 1) * 0.05, r.Item.TimeS, 0.5 / 22_050 + 1e-9));
    }

    [Fact]
    public void A_last_frame_that_is_not_full_is_told_with_the_time_where_the_samples_end()
    {
        var readings = Told(new MeterTraits(0.05), Signals.Rate, Signals.Sine(-6, 0.06));

        Assert.Equal(2, readings.Count);
        Assert.Equal(0.06, readings[^1].TimeS, 1e-9);
        Assert.Equal(-6, readings[^1].RmsDbfs, 0.01);
    }

    [Fact]
    public void Only_the_peak_falls_back()
    {
        var readings = Told(new MeterTraits(0.1, ReleaseDbPerS: 10), Signals.Rate, Signals.Sine(0, 0.1).Then(Signals.Sine(-40, 0.9)));

        Assert.Equal(-9, readings[^1].PeakDbfs, 0.01);
        Assert.Equal(-40, readings[^1].RmsDbfs, 0.01);
    }

    [Fact]
    public void Blocks_cut_anywhere_tell_the_same_frames() => Gen.Select(Gen.Int[1, 4000].Array[1, 6], Gen.Double[0.001, 0.2]).Sample((sizes, frameS) =>
    {
        double[][] channels = [Signals.Noise(20_000, 1), Signals.Noise(20_000, 2)];
        var whole = Told(new MeterTraits(frameS, 12), 44_100, channels);
        var meters = new DeskMeters(new MeterTraits(frameS, 12), 44_100, 2);
        var cut = new List<MeterReading>();
        foreach (SampleBlock block in Blocks.Cut(channels, sizes))
            meters.Hear(block, cut.Add);
        meters.Finish(cut.Add);

        return whole.Count == cut.Count && whole.Zip(cut).All(pair =>
            pair.First.PeakDbfs == pair.Second.PeakDbfs && pair.First.TimeS == pair.Second.TimeS && Math.Abs(pair.First.RmsDbfs - pair.Second.RmsDbfs) < 1e-5);
    }, iter: 200);

    [Theory]
    [InlineData(0)]
    [InlineData(-0.05)]
    [InlineData(double.NaN)]
    [InlineData(1e-6)]
    [InlineData(1e9)]
    public void A_frame_that_holds_no_sample_or_never_ends_is_refused(double frameS)
        => Assert.Throws<ArgumentOutOfRangeException>(() => new DeskMeters(new MeterTraits(frameS), Signals.Rate, 1));

    private static List<MeterReading> Told(MeterTraits traits, int rate, params double[][] channels)
    {
        var meters = new DeskMeters(traits, rate, channels.Length);
        var readings = new List<MeterReading>();
        meters.Hear(Blocks.Of(channels), readings.Add);
        meters.Finish(readings.Add);
        return readings;
    }
}
