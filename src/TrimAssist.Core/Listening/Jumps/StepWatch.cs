namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Tells a pad or a switch from a note: the noise itself jumps, by about a pad's worth, and keeps its character, because gain changes the
/// level of a noise and nothing else.
/// </summary>
internal static class StepWatch
{
    /// <summary>Pads and switches change by 10 or 20 dB; the meter's noise blurs it.</summary>
    private const float LeastStepDb = 7;

    private const float MostStepDb = 24;

    /// <summary>Frame peaks of a steady noise scatter by less than this.</summary>
    private const float NoiseSpreadDb = 2.2f;

    /// <summary>A noise's crest, in dB against plain RMS; tones and notes lie lower.</summary>
    private const float NoiseCrestDb = 9.2f;

    /// <summary>The crest before and after may differ by this much.</summary>
    private const float SameCrestDb = 1.3f;

    /// <summary>Whether the rise was a step of the noise, found half a second after it.</summary>
    public static bool IsStepOfNoise(AfterRise m, int othersRising)
    {
        var step = m.End - m.Rest;
        return step is > LeastStepDb and < MostStepDb && m.RestSpread < NoiseSpreadDb && m.EndSpread < NoiseSpreadDb
            && m.EndCrest > NoiseCrestDb && Math.Abs(m.EndCrest - m.RestCrest) < SameCrestDb && othersRising <= 1
            && Math.Abs(m.EndSpread - m.RestSpread) < 1;
    }
}
