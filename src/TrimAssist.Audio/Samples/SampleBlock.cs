namespace TrimAssist.Audio.Samples;

/// <summary>A stretch of samples, channel after channel, 1.0 being full scale. Reused block after block.</summary>
/// <param name="channels">Number of channels.</param>
/// <param name="capacity">The most samples per channel.</param>
public sealed class SampleBlock(int channels, int capacity)
{
    private readonly double[] _samples = new double[channels * capacity];

    /// <summary>Number of channels.</summary>
    public int Channels { get; } = channels;

    /// <summary>The most samples per channel.</summary>
    public int Capacity { get; } = capacity;

    /// <summary>Samples per channel now in the block.</summary>
    public int Frames { get; private set; }

    /// <summary>One channel's samples, counted from 0.</summary>
    public ReadOnlySpan<double> Channel(int channel) => _samples.AsSpan(channel * Capacity, Frames);

    /// <summary>Sets how many samples per channel the block holds; the caller fills them through <see cref="Fill"/>.</summary>
    public void Resize(int frames)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(frames);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(frames, Capacity);
        Frames = frames;
    }

    /// <summary>One channel's samples for writing, counted from 0.</summary>
    public Span<double> Fill(int channel) => _samples.AsSpan(channel * Capacity, Frames);
}
