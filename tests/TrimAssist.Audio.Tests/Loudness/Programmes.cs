using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Samples;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.Loudness;

/// <summary>Runs signals through a loudness meter.</summary>
internal static class Programmes
{
    public static readonly double[] Stereo = [1, 1];

    public static Programme Heard(int rate, double[] weights, params double[][] channels)
    {
        var meter = LoudnessMeter.OfMix(rate, weights);
        meter.Hear(Blocks.Of(channels));
        return meter.Programmes[0];
    }

    /// <summary>The same signal in both channels at 48 kHz.</summary>
    public static Programme HeardInStereo(double[] signal) => Heard(Signals.Rate, Stereo, signal, signal);

    /// <summary>A value of the programme after every 10 ms of the same signal in both channels.</summary>
    public static List<double?> Watched(double[] signal, Func<Programme, double?> value)
    {
        var meter = LoudnessMeter.OfMix(Signals.Rate, Stereo);
        var seen = new List<double?>();
        foreach (SampleBlock block in Blocks.Cut([signal, signal], Signals.Rate / 100))
        {
            meter.Hear(block);
            seen.Add(value(meter.Programmes[0]));
        }

        return seen;
    }
}
