using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using TrimAssist.Core.Units;

namespace TrimAssist.Audio.Levels;

/// <summary>Sample peak and RMS of one channel over everything heard since the last <see cref="Reset"/>.</summary>
public struct LevelAccumulator
{
    private double _peak;
    private double _sumOfSquares;
    private long _samples;

    /// <summary>Samples heard.</summary>
    public readonly long Samples => _samples;

    /// <summary>The largest magnitude, 1.0 being full scale.</summary>
    public readonly double PeakMagnitude => _peak;

    /// <summary>The sample peak; −∞ for digital silence, <see langword="null"/> before the first sample.</summary>
    public readonly Dbfs? Peak => _samples == 0 ? null : Level.OfPeak(_peak);

    /// <summary>The RMS after AES17; −∞ for digital silence, <see langword="null"/> before the first sample.</summary>
    public readonly Dbfs? Rms => _samples == 0 ? null : Level.OfMeanSquare(_sumOfSquares / _samples);

    /// <summary>Hears samples, 1.0 being full scale; they must be numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Hear(ReadOnlySpan<double> samples)
    {
        var vectors = MemoryMarshal.Cast<double, Vector<double>>(samples);
        Vector<double> peaks = default, evenSquares = default, oddSquares = default;
        for (var i = 0; i + 1 < vectors.Length; i += 2)
        {
            peaks = Vector.Max(peaks, Vector.Max(Vector.Abs(vectors[i]), Vector.Abs(vectors[i + 1])));
            evenSquares += vectors[i] * vectors[i];
            oddSquares += vectors[i + 1] * vectors[i + 1];
        }

        for (var lane = 0; lane < Vector<double>.Count; lane++)
            _peak = Math.Max(_peak, peaks[lane]);
        _sumOfSquares += Vector.Sum(evenSquares + oddSquares);
        foreach (var sample in samples[(vectors.Length / 2 * 2 * Vector<double>.Count)..])
        {
            _peak = Math.Max(_peak, Math.Abs(sample));
            _sumOfSquares += sample * sample;
        }

        _samples += samples.Length;
    }

    /// <summary>Starts anew.</summary>
    public void Reset() => this = default;
}
