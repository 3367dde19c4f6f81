using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using TrimAssist.Core.Units;

namespace TrimAssist.Audio.Levels;

/// <summary>True peak of one channel, four times oversampled after ITU-R BS.1770-5, annex 2.</summary>
/// <remarks>The result is the larger of the interpolated peak and the sample peak. Silence is assumed before the first and, at <see cref="Finish"/>, after the last sample.</remarks>
public sealed class TruePeakMeter
{
    private const int Taps = TruePeakFilter.Taps;
    private const int Chunk = 1_024;

    /// <summary>The last samples of the chunk before, then a chunk.</summary>
    private readonly float[] _window = new float[Taps - 1 + Chunk];
    private LevelAccumulator _samples;
    private float _oversampled;

    /// <summary>The true peak so far in dBTP; −∞ for digital silence, <see langword="null"/> before the first sample.</summary>
    public Dbfs? Peak => _samples.Samples == 0 ? null : Level.OfPeak(Math.Max(_oversampled, _samples.PeakMagnitude));

    /// <summary>Hears samples, 1.0 being full scale; they must be numbers.</summary>
    public void Hear(ReadOnlySpan<double> samples)
    {
        while (!samples.IsEmpty)
        {
            var part = samples[..Math.Min(Chunk, samples.Length)];
            _samples.Hear(part);
            Narrow(part, _window.AsSpan(Taps - 1, part.Length));
            _oversampled = TruePeakFilter.Peak(_window.AsSpan(0, Taps - 1 + part.Length), _oversampled);
            _window.AsSpan(part.Length, Taps - 1).CopyTo(_window);
            samples = samples[part.Length..];
        }
    }

    /// <summary>Lets the filter ring out after the last sample.</summary>
    public void Finish()
    {
        _window.AsSpan(Taps - 1, Taps - 1).Clear();
        _oversampled = TruePeakFilter.Peak(_window.AsSpan(0, 2 * (Taps - 1)), _oversampled);
        _window.AsSpan().Clear();
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Narrow(ReadOnlySpan<double> samples, Span<float> into)
    {
        var from = MemoryMarshal.Cast<double, Vector<double>>(samples);
        var to = MemoryMarshal.Cast<float, Vector<float>>(into);
        for (var i = 0; i < to.Length; i++)
            to[i] = Vector.Narrow(from[2 * i], from[(2 * i) + 1]);
        for (var i = to.Length * Vector<float>.Count; i < samples.Length; i++)
            into[i] = (float)samples[i];
    }
}
