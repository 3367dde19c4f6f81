using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Loudness;

/// <summary>K-weighting of four neighbouring channels, a lane each.</summary>
/// <param name="filter">The filters.</param>
/// <param name="first">The first of the four channels; where there are fewer, the last is filtered again and not told.</param>
internal sealed class FourChannelFilter(KWeighting filter, int first)
{
    /// <summary>Channels filtered together.</summary>
    public const int Channels = 4;

    private readonly Coefficients _shelf = new(filter.Shelf);
    private readonly Coefficients _highPass = new(filter.HighPass);
    private Vector256<double> _sample1;
    private Vector256<double> _sample2;
    private Vector256<double> _shelved1;
    private Vector256<double> _shelved2;
    private Vector256<double> _weighted1;
    private Vector256<double> _weighted2;
    private Vector256<double> _squares;

    /// <summary>Hears a part of a block and adds up the squares of what it is after the filter, but for its constant gain.</summary>
    /// <remarks>Kept by itself: inlined, or recompiled from what a run with few channels looked like, it was found to be five times slower.</remarks>
    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    public void Hear(SampleBlock block, int from, int part)
    {
        var last = block.Channels - 1;
        var a = block.Channel(first).Slice(from, part);
        var b = block.Channel(Math.Min(first + 1, last)).Slice(from, part);
        var c = block.Channel(Math.Min(first + 2, last)).Slice(from, part);
        var d = block.Channel(Math.Min(first + 3, last)).Slice(from, part);
        var (shelf, highPass) = (_shelf, _highPass);
        var (sample1, sample2) = (_sample1, _sample2);
        var (shelved1, shelved2) = (_shelved1, _shelved2);
        var (weighted1, weighted2) = (_weighted1, _weighted2);
        var squares = _squares;
        for (var i = 0; i < a.Length; i++)
        {
            var sample = Vector256.Create(a[i], b[i], c[i], d[i]);
            var shelved = shelf.Next(sample, sample1, sample2, shelved1, shelved2);
            var weighted = highPass.Next(shelved, shelved1, shelved2, weighted1, weighted2);
            squares = Vector256.MultiplyAddEstimate(weighted, weighted, squares);
            (sample2, sample1) = (sample1, sample);
            (shelved2, shelved1) = (shelved1, shelved);
            (weighted2, weighted1) = (weighted1, weighted);
        }

        (_sample1, _sample2) = (sample1, sample2);
        (_shelved1, _shelved2) = (shelved1, shelved2);
        (_weighted1, _weighted2) = (weighted1, weighted2);
        _squares = squares;
    }

    /// <summary>Writes the sums of squares since the last call into the four's places among all channels.</summary>
    public void TakeSquares(Span<double> channels)
    {
        for (var lane = 0; lane < Channels && first + lane < channels.Length; lane++)
            channels[first + lane] = _squares[lane];
        _squares = default;
        (_shelved1, _shelved2) = (Faint.Removed(_shelved1), Faint.Removed(_shelved2));
        (_weighted1, _weighted2) = (Faint.Removed(_weighted1), Faint.Removed(_weighted2));
    }

    /// <summary>Coefficients ready for vectors, scaled so that the newest sample counts once. The last output enters last, so that one multiplication is all a sample waits for.</summary>
    private readonly struct Coefficients(Biquad filter)
    {
        private readonly Vector256<double> _b1 = Vector256.Create(filter.B1 / filter.B0);
        private readonly Vector256<double> _b2 = Vector256.Create(filter.B2 / filter.B0);
        private readonly Vector256<double> _minusA1 = Vector256.Create(-filter.A1);
        private readonly Vector256<double> _minusA2 = Vector256.Create(-filter.A2);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector256<double> Next(Vector256<double> x0, Vector256<double> x1, Vector256<double> x2, Vector256<double> y1, Vector256<double> y2)
        {
            var early = Vector256.MultiplyAddEstimate(_b1, x1, x0);
            early = Vector256.MultiplyAddEstimate(_b2, x2, early);
            early = Vector256.MultiplyAddEstimate(_minusA2, y2, early);
            return Vector256.MultiplyAddEstimate(_minusA1, y1, early);
        }
    }
}
