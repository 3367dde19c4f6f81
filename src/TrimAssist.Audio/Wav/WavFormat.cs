namespace TrimAssist.Audio.Wav;

/// <summary>How samples are written.</summary>
public enum SampleEncoding
{
    /// <summary>Integers; full scale is the most negative one.</summary>
    WholeNumber,

    /// <summary>IEEE 754 floating point; full scale is 1.0.</summary>
    FloatingPoint,
}

/// <summary>What the samples of a recording look like.</summary>
/// <param name="SampleRate">Samples per second of each channel.</param>
/// <param name="Channels">Number of channels.</param>
/// <param name="Encoding">How samples are written.</param>
/// <param name="BytesPerSample">Room of one sample: 1 to 4 for integers, 4 or 8 for floats. Shorter words sit at its top.</param>
public sealed record WavFormat(int SampleRate, int Channels, SampleEncoding Encoding, int BytesPerSample)
{
    /// <summary>The slowest sample rate read; below it the K-weighting has no meaning.</summary>
    public const int MinSampleRate = 4_000;

    /// <summary>The fastest sample rate read.</summary>
    public const int MaxSampleRate = 1_536_000;

    /// <summary>The most channels read: what a block and its meters cost stays bounded.</summary>
    public const int MaxChannels = 1_024;

    /// <summary>Bytes of one sample of every channel.</summary>
    public int BytesPerFrame => Channels * BytesPerSample;
}
