using TrimAssist.Service.Measure;
using Xunit;

namespace TrimAssist.Service.Tests.Measure;

public sealed class RecordingTests
{
    private const int Rate = 48_000;

    // ITU-R BS.1770-5, annex 1: a 997 Hz sine at full scale in one channel reads -3.01 LKFS; EBU Tech 3342 allows 1 LU for a range of nothing.
    [Fact]
    public void A_steady_tone_is_told_with_its_peaks_and_its_loudness()
    {
        var channel = Assert.Single(Measure(20, -20).Channels);

        Assert.Equal(-20, channel.PeakDbfs!.Value, 0.01);
        Assert.Equal(-20, channel.TruePeakDbtp!.Value, 0.1);
        Assert.Equal(-23.01, channel.IntegratedLufs!.Value, 0.1);
        Assert.Equal(-23.01, channel.MomentaryMaxLufs!.Value, 0.1);
        Assert.Equal(-23.01, channel.ShortTermMaxLufs!.Value, 0.1);
        Assert.Equal(0, channel.LoudnessRangeLu!.Value, 1);
    }

    [Fact]
    public void What_a_meter_log_cannot_say_is_left_out()
    {
        var channel = Assert.Single(new LogFile().Notes().Measure().Channels);

        Assert.Equal((null, null, null, null, null), (channel.TruePeakDbtp, channel.IntegratedLufs, channel.MomentaryMaxLufs, channel.ShortTermMaxLufs, channel.LoudnessRangeLu));
    }

    private static MeasureDocument Measure(int seconds, double peakDbfs)
    {
        var path = Path.GetTempFileName();
        try
        {
            using (var file = new BinaryWriter(File.Create(path)))
                WriteTone(file, seconds * Rate, Math.Pow(10, peakDbfs / 20) * 32_767);
            return FileMeasurer.Measure(path, new MeasureOptions());
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static void WriteTone(BinaryWriter file, int samples, double amplitude)
    {
        file.Write("RIFF"u8);
        file.Write(36 + (samples * sizeof(short)));
        file.Write("WAVEfmt "u8);
        file.Write(16);
        file.Write((short)1);
        file.Write((short)1);
        file.Write(Rate);
        file.Write(Rate * sizeof(short));
        file.Write((short)sizeof(short));
        file.Write((short)16);
        file.Write("data"u8);
        file.Write(samples * sizeof(short));
        for (var sample = 0; sample < samples; sample++)
            file.Write((short)Math.Round(amplitude * Math.Sin(2 * Math.PI * 997 * sample / Rate)));
    }
}
