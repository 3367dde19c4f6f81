using System.Numerics;
using System.Runtime.InteropServices;

namespace TrimAssist.Audio.Levels;

/// <summary>The interpolation filter of ITU-R BS.1770-5, annex 2: order 48 in four phases of 12 taps.</summary>
internal static class TruePeakFilter
{
    /// <summary>Taps of one phase.</summary>
    public const int Taps = 12;

    /// <summary>The printed coefficients times this are whole numbers.</summary>
    private const float Scale = 8192;

    /// <summary>Phases 0 and 1; phases 3 and 2 are the same backwards.</summary>
    public static ReadOnlySpan<float> Phase0 =>
    [
        14 / Scale, 90 / Scale, -161 / Scale, 272 / Scale, -487 / Scale, 1125 / Scale,
        7964 / Scale, -838 / Scale, 390 / Scale, -218 / Scale, 122 / Scale, -68 / Scale,
    ];

    /// <inheritdoc cref="Phase0"/>
    public static ReadOnlySpan<float> Phase1 =>
    [
        -239 / Scale, 240 / Scale, -424 / Scale, 730 / Scale, -1364 / Scale, 3810 / Scale,
        6388 / Scale, -1641 / Scale, 832 / Scale, -477 / Scale, 271 / Scale, -155 / Scale,
    ];

    /// <summary>The largest magnitude of the four phases for each sample after the first eleven, which are its past.</summary>
    public static float Peak(ReadOnlySpan<float> window)
    {
        var outputs = window.Length - (Taps - 1);
        var whole = Vector.IsHardwareAccelerated ? outputs / Vector<float>.Count * Vector<float>.Count : 0;
        return Math.Max(PeakByVector(window, whole), PeakByScalar(window[whole..]));
    }

    /// <summary>The same one sample at a time, for what is left over and for machines without vectors.</summary>
    internal static float PeakByScalar(ReadOnlySpan<float> window)
    {
        var peak = 0f;
        for (var at = 0; at + Taps <= window.Length; at++)
        {
            float phase0 = 0, phase1 = 0, phase2 = 0, phase3 = 0;
            for (var tap = 0; tap < Taps; tap++)
            {
                var sample = window[at + Taps - 1 - tap];
                phase0 = float.MultiplyAddEstimate(sample, Phase0[tap], phase0);
                phase1 = float.MultiplyAddEstimate(sample, Phase1[tap], phase1);
                phase2 = float.MultiplyAddEstimate(sample, Phase1[Taps - 1 - tap], phase2);
                phase3 = float.MultiplyAddEstimate(sample, Phase0[Taps - 1 - tap], phase3);
            }

            peak = Math.Max(Math.Max(Math.Max(Math.Abs(phase0), Math.Abs(phase1)), Math.Max(Math.Abs(phase2), Math.Abs(phase3))), peak);
        }

        return peak;
    }

    private static float PeakByVector(ReadOnlySpan<float> window, int outputs)
    {
        Vector<float> peaks = default;
        ref var first = ref MemoryMarshal.GetReference(window);
        for (var at = 0; at < outputs; at += Vector<float>.Count)
        {
            Vector<float> phase0 = default, phase1 = default, phase2 = default, phase3 = default;
            for (var tap = 0; tap < Taps; tap++)
            {
                var samples = Vector.LoadUnsafe(ref first, (nuint)(at + Taps - 1 - tap));
                phase0 = Vector.MultiplyAddEstimate(samples, new Vector<float>(Phase0[tap]), phase0);
                phase1 = Vector.MultiplyAddEstimate(samples, new Vector<float>(Phase1[tap]), phase1);
                phase2 = Vector.MultiplyAddEstimate(samples, new Vector<float>(Phase1[Taps - 1 - tap]), phase2);
                phase3 = Vector.MultiplyAddEstimate(samples, new Vector<float>(Phase0[Taps - 1 - tap]), phase3);
            }

            peaks = Vector.Max(peaks, Vector.Max(Vector.Max(Vector.Abs(phase0), Vector.Abs(phase1)), Vector.Max(Vector.Abs(phase2), Vector.Abs(phase3))));
        }

        var peak = 0f;
        for (var lane = 0; lane < Vector<float>.Count; lane++)
            peak = Math.Max(peak, peaks[lane]);
        return peak;
    }
}
