using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace TrimAssist.Audio.Loudness;

/// <summary>K-weighting of one channel, four samples to a vector: for a channel that has no three others beside it to share one.</summary>
internal sealed class ChannelFilter
{
    private const int Lanes = 4;

    private readonly Biquad _shelf;
    private readonly Biquad _highPass;
    private readonly FourSamples _shelfOfFour;
    private readonly FourSamples _highPassOfFour;

    // The last two of each: [2] the one before, [3] the last.
    private Vector256<double> _samples;
    private Vector256<double> _shelved;
    private Vector256<double> _weighted;
    private double _squares;

    /// <summary>A filter at rest.</summary>
    public ChannelFilter(KWeighting filter)
    {
        (_shelf, _highPass) = (WithoutGain(filter.Shelf), WithoutGain(filter.HighPass));
        (_shelfOfFour, _highPassOfFour) = (new(filter.Shelf), new(filter.HighPass));
    }

    /// <summary>Hears samples and adds up the squares of what they are after the filter, but for its constant gain.</summary>
    public void Hear(ReadOnlySpan<double> samples)
    {
        var whole = samples.Length / Lanes * Lanes;
        HearFours(samples[..whole]);
        foreach (var sample in samples[whole..])
            HearOne(sample);
    }

    /// <summary>The sum of squares since the last call.</summary>
    public double TakeSquares()
    {
        var squares = _squares;
        _squares = 0;
        _shelved = Faint.Removed(_shelved);
        _weighted = Faint.Removed(_weighted);
        return squares;
    }

    /// <summary>Kept by itself and compiled in full at once: it is a long loop of its own.</summary>
    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    private void HearFours(ReadOnlySpan<double> samples)
    {
        if (samples.IsEmpty)
            return;
        var (shelf, highPass) = (_shelfOfFour, _highPassOfFour);
        var (sample2, sample1) = (Vector256.Create(_samples[2]), Vector256.Create(_samples[3]));
        var (shelved2, shelved1) = (Vector256.Create(_shelved[2]), Vector256.Create(_shelved[3]));
        var (shelved, weighted) = (_shelved, _weighted);
        var squares = Vector256<double>.Zero;
        ref var first = ref MemoryMarshal.GetReference(samples);
        for (nint i = 0; i < samples.Length; i += Lanes)
        {
            var sample0 = Vector256.Create(Unsafe.Add(ref first, i));
            var next1 = Vector256.Create(Unsafe.Add(ref first, i + 1));
            var next2 = Vector256.Create(Unsafe.Add(ref first, i + 2));
            var next3 = Vector256.Create(Unsafe.Add(ref first, i + 3));
            shelved = shelf.Next(sample2, sample1, sample0, next1, next2, next3, shelved);
            (sample2, sample1) = (next2, next3);

            var shelved0 = Vector256.Shuffle(shelved, Vector256.Create(0L));
            var later1 = Vector256.Shuffle(shelved, Vector256.Create(1L));
            var later2 = Vector256.Shuffle(shelved, Vector256.Create(2L));
            var later3 = Vector256.Shuffle(shelved, Vector256.Create(3L));
            weighted = highPass.Next(shelved2, shelved1, shelved0, later1, later2, later3, weighted);
            (shelved2, shelved1) = (later2, later3);
            squares = Vector256.MultiplyAddEstimate(weighted, weighted, squares);
        }

        _samples = Vector256.LoadUnsafe(ref first, (nuint)(samples.Length - Lanes));
        (_shelved, _weighted) = (shelved, weighted);
        _squares += Vector256.Sum(squares);
    }

    private void HearOne(double sample)
    {
        var shelved = Next(_shelf, sample, _samples, _shelved);
        var weighted = Next(_highPass, shelved, _shelved, _weighted);
        _samples = WithLast(_samples, sample);
        _shelved = WithLast(_shelved, shelved);
        _weighted = WithLast(_weighted, weighted);
        _squares += weighted * weighted;
    }

    private static double Next(Biquad filter, double sample, Vector256<double> samples, Vector256<double> outputs)
        => sample + (filter.B1 * samples[3]) + (filter.B2 * samples[2]) - (filter.A2 * outputs[2]) - (filter.A1 * outputs[3]);

    private static Vector256<double> WithLast(Vector256<double> values, double last) => Vector256.Create(0, 0, values[3], last);

    private static Biquad WithoutGain(Biquad filter) => filter with { B0 = 1, B1 = filter.B1 / filter.B0, B2 = filter.B2 / filter.B0 };
}
