using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using NAudio.Wave;

namespace TrimAssist.Audio.Wav;

/// <summary>Reads samples, channels interleaved, from where a stream stands.</summary>
internal interface ISampleSource
{
    /// <summary>Fills the front of <paramref name="samples"/>; fewer than asked means the stream ended.</summary>
    int Read(Span<double> samples);

    /// <summary>The source that keeps every bit of the format.</summary>
    static ISampleSource For(Stream stream, WavFormat format)
        => format is { Encoding: SampleEncoding.WholeNumber, BytesPerSample: 4 } or { BytesPerSample: 8 }
            ? new WideSamples(stream, format)
            : new FloatSamples(stream, format);
}

/// <summary>Formats of up to 24 bits, which single precision holds exactly, converted by NAudio.</summary>
internal sealed class FloatSamples(Stream stream, WavFormat format) : ISampleSource
{
    private readonly ISampleProvider _provider = new RawSourceWaveStream(stream, Describe(format)).ToSampleProvider();
    private float[] _buffer = [];

    public int Read(Span<double> samples)
    {
        if (_buffer.Length < samples.Length)
            _buffer = new float[samples.Length];
        var got = 0;
        while (got < samples.Length && _provider.Read(_buffer.AsSpan(got, samples.Length - got)) is > 0 and var more)
            got += more;
        Widen(_buffer.AsSpan(0, got), samples);
        return got;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Widen(ReadOnlySpan<float> from, Span<double> to)
    {
        var vectors = MemoryMarshal.Cast<float, Vector<float>>(from);
        var widened = MemoryMarshal.Cast<double, Vector<double>>(to);
        for (var i = 0; i < vectors.Length; i++)
            Vector.Widen(vectors[i], out widened[2 * i], out widened[(2 * i) + 1]);
        for (var i = vectors.Length * Vector<float>.Count; i < from.Length; i++)
            to[i] = from[i];
    }

    private static WaveFormat Describe(WavFormat format) => format.Encoding == SampleEncoding.FloatingPoint
        ? WaveFormat.CreateIeeeFloatWaveFormat(format.SampleRate, format.Channels)
        : new WaveFormat(format.SampleRate, format.BytesPerSample * 8, format.Channels);
}

/// <summary>32-bit integers and 64-bit floats, which single precision would round.</summary>
internal sealed class WideSamples(Stream stream, WavFormat format) : ISampleSource
{
    private const double IntegerFullScale = 2147483648.0;
    private byte[] _buffer = [];

    public int Read(Span<double> samples)
    {
        var wanted = samples.Length * format.BytesPerSample;
        if (_buffer.Length < wanted)
            _buffer = new byte[wanted];
        var got = stream.ReadAtLeast(_buffer.AsSpan(0, wanted), wanted, throwOnEndOfStream: false) / format.BytesPerSample;
        for (var i = 0; i < got; i++)
        {
            var at = _buffer.AsSpan(i * format.BytesPerSample);
            samples[i] = format.Encoding == SampleEncoding.FloatingPoint
                ? BinaryPrimitives.ReadDoubleLittleEndian(at)
                : BinaryPrimitives.ReadInt32LittleEndian(at) / IntegerFullScale;
        }

        return got;
    }
}
