namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// How evenly the noise of electronics reads. White noise of 24 kHz measured over 50 ms (2,400 samples) scatters by
/// 4.34 × √(2/2400) = 0.13 dB of RMS, with the root of the frame's length; music, stages and hands scatter by 1 dB and more.
/// </summary>
internal static class StationaryNoise
{
    /// <summary>Twice the scatter of white noise: room for rounding and for a little hum.</summary>
    private const double DbAt50Ms = 0.28;

    private const double ReferenceS = 0.05;

    /// <summary>Standard deviation of RMS in dB below which frames of <paramref name="frameS"/> seconds stand still.</summary>
    public static float SpreadDb(double frameS) => (float)(DbAt50Ms * Math.Sqrt(ReferenceS / frameS));
}
