using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Loudness;

/// <summary>Measures loudness: every channel as a programme of its own, or all channels as one.</summary>
public sealed class LoudnessMeter
{
    private readonly KWeightedPower _power;
    private readonly double[]? _weights;
    private readonly Programme[] _programmes;

    private LoudnessMeter(int sampleRate, int channels, double[]? weights)
    {
        _power = new KWeightedPower(sampleRate, channels);
        _weights = weights;
        _programmes = [.. Enumerable.Range(0, weights is null ? channels : 1).Select(_ => new Programme())];
    }

    /// <summary>The weights of left, right, centre, left surround and right surround (ITU-R BS.1770-5, table 3).</summary>
    public static IReadOnlyList<double> FiveChannels { get; } = [1, 1, 1, 1.41, 1.41];

    /// <summary>One programme, or as many as there are channels.</summary>
    public IReadOnlyList<Programme> Programmes => _programmes;

    /// <summary>A meter for inputs: each channel is a programme of its own, as heard from one front loudspeaker.</summary>
    public static LoudnessMeter OfEachChannel(int sampleRate, int channels) => new(sampleRate, channels, null);

    /// <summary>A meter for a mix: one programme of all channels.</summary>
    /// <param name="sampleRate">Samples per second.</param>
    /// <param name="weights">Each channel's weight by its place; 0 leaves a channel out, as the low-frequency one is.</param>
    public static LoudnessMeter OfMix(int sampleRate, IEnumerable<double> weights)
    {
        double[] all = [.. weights];
        return new(sampleRate, all.Length, all);
    }

    /// <summary>Hears a block.</summary>
    public void Hear(SampleBlock block)
    {
        ArgumentNullException.ThrowIfNull(block);
        var taken = 0;
        while (taken < block.Frames)
        {
            taken += _power.Hear(block, taken, out var stepDone);
            if (stepDone)
                PassOn();
        }
    }

    private void PassOn()
    {
        if (_weights is null)
        {
            for (var channel = 0; channel < _programmes.Length; channel++)
                _programmes[channel].Hear(_power.Powers[channel]);
            return;
        }

        var sum = 0.0;
        for (var channel = 0; channel < _weights.Length; channel++)
            sum += _weights[channel] * _power.Powers[channel];
        _programmes[0].Hear(sum);
    }
}
