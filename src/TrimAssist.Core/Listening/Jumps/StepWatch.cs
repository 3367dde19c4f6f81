namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Tells a pad or a switch from a note: the noise itself jumps, by about a pad's worth, and keeps its character, because gain changes the
/// level of a noise and nothing else.
/// </summary>
internal static class StepWatch
{
    /// <summary>Pads take away 10 or 20 dB; the meter's noise blurs it by this much.</summary>
    private const float BlurDb = 1.5f;

    /// <summary>A noise's crest, in dB against plain RMS; tones and notes lie lower.</summary>
    private const float NoiseCrestDb = 9.8f;

    /// <summary>The crest before and after may differ by this much.</summary>
    private const float SameCrestDb = 1;

    /// <summary>Whether the rise was a step of the noise, found half a second after it.</summary>
    public static bool IsStepOfNoise(AfterRise m, int othersRising, float still)
    {
        var step = m.End - m.Rest;
        return (Math.Abs(step - 10) < BlurDb || Math.Abs(step - 20) < BlurDb) && m.RestRmsSpread < still && m.EndRmsSpread < still
            && m.EndCrest > NoiseCrestDb && Math.Abs(m.EndCrest - m.RestCrest) < SameCrestDb && othersRising <= 1;
    }
}
