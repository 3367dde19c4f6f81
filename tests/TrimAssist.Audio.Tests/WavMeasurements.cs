using TrimAssist.Audio.Tests.Kit;
using TrimAssist.Audio.Wav;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio.Tests;

public sealed class WavMeasurements : IDisposable
{
    private readonly string _path = Path.GetTempFileName();

    [Fact]
    public void A_recording_of_several_inputs_gives_each_its_levels_and_all_readings()
    {
        double[][] inputs = [Signals.Sine(-6, 5), Signals.Sine(-20, 5), Signals.Silence(5)];
        Write(inputs, new WavBytes(3, Bits: 32, Tag: 3));
        var readings = new List<MeterReading>();

        Assert.True(WavMeasurement.TryRead(_path, new MeterTraits(0.05), readings.Add, out var measured, out _));

        Assert.Equal(5, measured!.DurationS, 1e-9);
        Assert.Empty(measured.Warnings);
        Assert.Equal(300, readings.Count);
        Assert.Equal([1, 2, 3, 1], readings.Take(4).Select(r => r.Input));
        Assert.Equal([-6, -20, double.NegativeInfinity], measured.Channels.Select(c => Math.Round(c.SamplePeak.Value, 3)));
        Assert.Equal([-6, -20, double.NegativeInfinity], measured.Channels.Select(c => Math.Round(c.Rms.Value, 3)));
        Assert.Equal(-20, measured.Channels[1].TruePeak.Value, 0.1);
        Assert.Equal(-6 - 3.01, measured.Channels[0].IntegratedLufs!.Value, 0.05);
        Assert.Equal(measured.Channels[0].IntegratedLufs!.Value, measured.Channels[0].ShortTermMaxLufs!.Value, 0.01);
        Assert.Equal(0, measured.Channels[0].RangeLu!.Value, 0.01);
        Assert.Null(measured.Channels[2].IntegratedLufs);
    }

    [Fact]
    public void Repairs_and_garbage_are_told_as_warnings()
    {
        double[] samples = [0.5, double.NaN, -0.5];
        Write([samples], new WavBytes(Bits: 32, Tag: 3) { ClaimedData = 0, ClaimedRiff = 0 });

        Assert.True(WavMeasurement.TryRead(_path, new MeterTraits(0.05), _ => { }, out var measured, out _));

        Assert.Equal(2, measured!.Warnings.Count);
        Assert.All(measured.Warnings, warning => Assert.EndsWith(".", warning, StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_that_is_no_recording_is_an_answer()
    {
        File.WriteAllText(_path, "time_s,channel,peak_dbfs,rms_dbfs\n");

        Assert.False(WavMeasurement.TryRead(_path, new MeterTraits(0.05), _ => { }, out var measured, out var error));

        Assert.Null(measured);
        Assert.Equal(WavFault.NotWav, error!.Fault);
    }

    public void Dispose() => File.Delete(_path);

    private void Write(double[][] channels, WavBytes format)
    {
        byte[] data = [.. Enumerable.Range(0, channels[0].Length).SelectMany(n => channels.SelectMany(c => BitConverter.GetBytes((float)c[n])))];
        File.WriteAllBytes(_path, format.With(data));
    }
}
