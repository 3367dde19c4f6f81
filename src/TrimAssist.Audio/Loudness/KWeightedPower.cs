using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Loudness;

/// <summary>K-weighted mean square of every channel, in steps of 10 ms. Four channels share one vector; one or two that are left over go four samples to a vector.</summary>
public sealed class KWeightedPower
{
    /// <summary>Steps per second: fine enough that a window laid anywhere misses at most 5 ms of a burst, 0.05 dB of 400 ms.</summary>
    public const int StepsPerSecond = 100;

    private readonly double _scale;
    private readonly FrameClock _clock;
    private readonly FourChannelFilter[] _fours;
    private readonly ChannelFilter[] _single;
    private readonly double[] _powers;
    private int _stepSamples;

    /// <summary>Filters at rest.</summary>
    /// <param name="sampleRate">Samples per second.</param>
    /// <param name="channels">Number of channels.</param>
    public KWeightedPower(int sampleRate, int channels)
    {
        var filter = KWeighting.At(sampleRate);
        _scale = Math.Pow(filter.Shelf.B0 * filter.HighPass.B0, 2);
        _clock = new FrameClock(1.0 / StepsPerSecond, sampleRate);
        var left = channels % FourChannelFilter.Channels;
        var single = left is 1 or 2 ? left : 0;
        _single = [.. Enumerable.Range(0, single).Select(_ => new ChannelFilter(filter))];
        _fours = [.. Enumerable.Range(0, (channels - single + FourChannelFilter.Channels - 1) / FourChannelFilter.Channels)
            .Select(four => new FourChannelFilter(filter, four * FourChannelFilter.Channels))];
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
        foreach (var four in _fours)
            four.Hear(block, from, part);
        for (var i = 0; i < _single.Length; i++)
            _single[i].Hear(block.Channel(FirstSingle + i).Slice(from, part));
        _stepSamples += part;
        stepDone = _clock.Advance(part);
        if (stepDone)
            Publish();
        return part;
    }

    private int FirstSingle => _powers.Length - _single.Length;

    private void Publish()
    {
        foreach (var four in _fours)
            four.TakeSquares(_powers.AsSpan(0, FirstSingle));
        for (var i = 0; i < _single.Length; i++)
            _powers[FirstSingle + i] = _single[i].TakeSquares();
        foreach (ref var power in _powers.AsSpan())
            power *= _scale / _stepSamples;
        _stepSamples = 0;
    }
}
