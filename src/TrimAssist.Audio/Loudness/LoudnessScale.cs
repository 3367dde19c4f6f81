namespace TrimAssist.Audio.Loudness;

/// <summary>ITU-R BS.1770-5, annex 1: loudness from K-weighted power, and the gates.</summary>
public static class LoudnessScale
{
    /// <summary>Takes away what the K-weighting adds at 997 Hz.</summary>
    public const double OffsetDb = -0.691;

    /// <summary>Blocks at or below it are never counted, in LUFS.</summary>
    public const double AbsoluteGateLufs = -70;

    /// <summary>Loudness in LUFS of a weighted sum of mean squares; <see langword="null"/> for silence, which has none.</summary>
    public static double? Lufs(double? power) => power > 0 ? OffsetDb + (10 * Math.Log10(power.Value)) : null;

    /// <summary>The power that has a loudness.</summary>
    public static double Power(double lufs) => Math.Pow(10, (lufs - OffsetDb) / 10);
}
