using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Loudness;

/// <summary>K-weighted mean square of every channel, in steps of 10 ms. Four channels share one vector.</summary>
public sealed class KWeightedPower
{
    /// <summary>Steps per second: fine enough that a window laid anywhere misses at most 5 ms of a burst, 0.05 dB of 400 ms.</summary>
    public const int StepsPerSecond = 100;

    private const int Lanes = 4;

    private readonly Coefficients _shelf;
    private readonly Coefficients _highPass;
    private readonly double _scale;
    private readonly FrameClock _clock;
    private readonly Memory[] _memories;
    private readonly double[] _powers;
    private int _stepSamples;

    /// <summary>Filters at rest.</summary>
    /// <param name="sampleRate">Samples per second.</param>
    /// <param name="channels">Number of channels.</param>
    public KWeightedPower(int sampleRate, int channels)
    {
        var filter = KWeighting.At(sampleRate);
        (_shelf, _highPass) = (new(filter.Shelf), new(filter.HighPass));
        _scale = Math.Pow(filter.Shelf.B0 * filter.HighPass.B0, 2);
        _clock = new FrameClock(1.0 / StepsPerSecond, sampleRate);
        _memories = new Memory[(channels + Lanes - 1) / Lanes];
        _powers = new double[channels];
    }

    /// <summary>Mean squares of the step completed last, channel by channel.</summary>
    public ReadOnlySpan<double> Powers => _powers;

    /// <summary>Hears a block from a sample on, at most to the end of the running step.</summary>
    /// <param name="block">The block.</param>
    /// <param name="from">The first sample to hear.</param>
    /// <param name="stepDone">Whether a step was completed and <see cref="Powers"/> is new.</param>
    /// <returns>Samples heard.</returns>
    public int Hear(SampleBlock block, int from, out bool stepDone)
    {
        ArgumentNullException.ThrowIfNull(block);
        var part = Math.Min(block.Frames - from, _clock.Missing);
        for (var group = 0; group < _memories.Length; group++)
            Filter(ref _memories[group], block, group * Lanes, from, part);
        _stepSamples += part;
        stepDone = _clock.Advance(part);
        if (stepDone)
            Publish();
        return part;
    }

    /// <summary>Kept by itself: inlined, or recompiled from what a run with few channels looked like, it was found to be five times slower.</summary>
    [MethodImpl(MethodImplOptions.NoInlining | MethodImplOptions.AggressiveOptimization)]
    private void Filter(ref Memory memory, SampleBlock block, int channel, int from, int part)
    {
        var last = block.Channels - 1;
        var a = block.Channel(channel).Slice(from, part);
        var b = block.Channel(Math.Min(channel + 1, last)).Slice(from, part);
        var c = block.Channel(Math.Min(channel + 2, last)).Slice(from, part);
        var d = block.Channel(Math.Min(channel + 3, last)).Slice(from, part);
        var (shelf, highPass) = (_shelf, _highPass);
        var (sample1, sample2) = (memory.Sample1, memory.Sample2);
        var (shelved1, shelved2) = (memory.Shelved1, memory.Shelved2);
        var (weighted1, weighted2) = (memory.Weighted1, memory.Weighted2);
        var squares = memory.Squares;
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

        memory = new Memory
        {
            Sample1 = sample1,
            Sample2 = sample2,
            Shelved1 = shelved1,
            Shelved2 = shelved2,
            Weighted1 = weighted1,
            Weighted2 = weighted2,
            Squares = squares,
        };
    }

    private void Publish()
    {
        for (var channel = 0; channel < _powers.Length; channel++)
            _powers[channel] = _memories[channel / Lanes].Squares[channel % Lanes] * _scale / _stepSamples;
        foreach (ref var memory in _memories.AsSpan())
            memory.EndStep();
        _stepSamples = 0;
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

    private struct Memory
    {
        public Vector256<double> Sample1;
        public Vector256<double> Sample2;
        public Vector256<double> Shelved1;
        public Vector256<double> Shelved2;
        public Vector256<double> Weighted1;
        public Vector256<double> Weighted2;
        public Vector256<double> Squares;

        /// <summary>Forgets the sum, and outputs so faint that only slow denormal arithmetic would follow.</summary>
        public void EndStep()
        {
            Squares = default;
            Shelved1 = WithoutDust(Shelved1);
            Shelved2 = WithoutDust(Shelved2);
            Weighted1 = WithoutDust(Weighted1);
            Weighted2 = WithoutDust(Weighted2);
        }

        private static Vector256<double> WithoutDust(Vector256<double> value)
            => Vector256.ConditionalSelect(Vector256.GreaterThan(Vector256.Abs(value), Vector256.Create(1e-30)), value, default);
    }
}
