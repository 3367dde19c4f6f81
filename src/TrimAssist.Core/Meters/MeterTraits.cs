namespace TrimAssist.Core.Meters;

/// <summary>Where in an input's path the desk reads its meter.</summary>
public enum MeterTap
{
    /// <summary>The profile does not say: good for warnings, never for trims.</summary>
    Unknown,

    /// <summary>Straight after the analogue-to-digital converter.</summary>
    Converter,

    /// <summary>After a digital trim: full scale there is 0 dBFS plus that trim.</summary>
    DigitalTrim,

    /// <summary>After equaliser or dynamics.</summary>
    Processing,

    /// <summary>After the fader.</summary>
    Fader,
}

/// <summary>How a desk's meters behave, as far as its profile says.</summary>
/// <param name="FrameS">Length of one meter frame in seconds.</param>
/// <param name="ReleaseDbPerS">How fast the meter falls back in dB per second; 0 when each frame shows its own peak.</param>
/// <param name="Tap">Where the desk reads the meter.</param>
/// <param name="FollowsMute">Whether a muted input reads silence; <see langword="null"/> where the profile does not say.</param>
public sealed record MeterTraits(double FrameS, double ReleaseDbPerS = 0, MeterTap Tap = MeterTap.Unknown, bool? FollowsMute = null)
{
    /// <summary>Whether readings say what the preamp delivers, so that a trim can be worked out from them.</summary>
    public bool GoodForTrims => Tap is MeterTap.Converter or MeterTap.DigitalTrim && FollowsMute is not null;
}
