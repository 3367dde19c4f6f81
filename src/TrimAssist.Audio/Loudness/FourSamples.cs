using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace TrimAssist.Audio.Loudness;

/// <summary>A second-order filter over four samples of one channel at once: what the four give one another, and what the two samples and two outputs before them give each.</summary>
/// <remarks>Exact but for rounding: the columns are the filter's own answers, worked out once. The newest sample counts once, as if B0 were 1.</remarks>
internal readonly struct FourSamples
{
    private readonly Vector256<double> _from0;
    private readonly Vector256<double> _from1;
    private readonly Vector256<double> _from2;
    private readonly Vector256<double> _from3;
    private readonly Vector256<double> _sample1;
    private readonly Vector256<double> _sample2;
    private readonly Vector256<double> _outputsInPlace;
    private readonly Vector256<double> _outputsSwapped;

    /// <summary>The columns for a filter.</summary>
    public FourSamples(Biquad filter)
    {
        var (b1, b2) = (filter.B1 / filter.B0, filter.B2 / filter.B0);
        _from0 = Answer(filter, 1, b1, b2);
        _from1 = Later(_from0);
        _from2 = Later(_from1);
        _from3 = Later(_from2);
        _sample1 = Answer(filter, b1, b2, 0);
        _sample2 = Answer(filter, b2, 0, 0);
        var output1 = Answer(filter, -filter.A1, -filter.A2, 0);
        var output2 = Answer(filter, -filter.A2, 0, 0);
        _outputsInPlace = Vector256.Create(output2[0], output1[1], output2[2], output1[3]);
        _outputsSwapped = Vector256.Create(output1[0], output2[1], output1[2], output2[3]);
    }

    /// <summary>The four outputs.</summary>
    /// <param name="sample2">The sample before the one before the four, in every lane; the others likewise.</param>
    /// <param name="sample1">The sample before the four.</param>
    /// <param name="sample0">The first of the four.</param>
    /// <param name="next1">The second.</param>
    /// <param name="next2">The third.</param>
    /// <param name="next3">The fourth.</param>
    /// <param name="outputs">The four outputs before; of them only the last two count.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<double> Next(
        Vector256<double> sample2,
        Vector256<double> sample1,
        Vector256<double> sample0,
        Vector256<double> next1,
        Vector256<double> next2,
        Vector256<double> next3,
        Vector256<double> outputs)
    {
        var lastTwo = UpperTwice(outputs);
        var swapped = Vector256.Shuffle(lastTwo, Vector256.Create(1L, 0, 3, 2));
        var past = Vector256.MultiplyAddEstimate(_sample1, sample1, _sample2 * sample2);
        past = Vector256.MultiplyAddEstimate(_from0, sample0, past);
        var own = Vector256.MultiplyAddEstimate(_from2, next2, _from1 * next1);
        own = Vector256.MultiplyAddEstimate(_from3, next3, own) + past;

        // The outputs enter last, by two ways at once: only they have to be waited for.
        return Vector256.MultiplyAddEstimate(_outputsInPlace, lastTwo, own) + (_outputsSwapped * swapped);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> UpperTwice(Vector256<double> value)
        => Avx.IsSupported ? Avx.Permute2x128(value, value, 0x11) : Vector256.Create(value.GetUpper(), value.GetUpper());

    /// <summary>What a filter without a past answers to the first three weights, over four outputs.</summary>
    private static Vector256<double> Answer(Biquad filter, double weight0, double weight1, double weight2)
    {
        var y0 = weight0;
        var y1 = weight1 - (filter.A1 * y0);
        var y2 = weight2 - (filter.A1 * y1) - (filter.A2 * y0);
        var y3 = -(filter.A1 * y2) - (filter.A2 * y1);
        return Vector256.Create(y0, y1, y2, y3);
    }

    private static Vector256<double> Later(Vector256<double> answer) => Vector256.Create(0, answer[0], answer[1], answer[2]);
}
