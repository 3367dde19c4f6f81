using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Loudness;
using TrimAssist.Core.Units;

namespace TrimAssist.Audio;

/// <summary>What one channel of a recording holds. Levels are −∞ for digital silence; loudness is <see langword="null"/> for silence and where the recording is shorter than its window.</summary>
/// <param name="SamplePeak">The largest sample.</param>
/// <param name="Rms">RMS of the whole recording after AES17.</param>
/// <param name="TruePeak">The true peak in dBTP (ITU-R BS.1770-5, annex 2), never below the sample peak.</param>
/// <param name="IntegratedLufs">Gated loudness of the whole recording (ITU-R BS.1770-5).</param>
/// <param name="MomentaryMaxLufs">The loudest 0.4 s.</param>
/// <param name="ShortTermMaxLufs">The loudest 3 s.</param>
/// <param name="RangeLu">Loudness range (EBU Tech 3342).</param>
public sealed record ChannelMeasurement(
    Dbfs SamplePeak,
    Dbfs Rms,
    Dbfs TruePeak,
    double? IntegratedLufs,
    double? MomentaryMaxLufs,
    double? ShortTermMaxLufs,
    double? RangeLu)
{
    internal static ChannelMeasurement Of(LevelAccumulator levels, TruePeakMeter truePeak, Programme programme)
    {
        truePeak.Finish();
        var silence = new Dbfs(double.NegativeInfinity);
        return new(
            levels.Peak ?? silence,
            levels.Rms ?? silence,
            truePeak.Peak ?? silence,
            programme.IntegratedLufs,
            programme.MomentaryMaxLufs,
            programme.ShortTermMaxLufs,
            programme.RangeLu);
    }
}
