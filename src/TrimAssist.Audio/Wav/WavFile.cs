using System.Diagnostics.CodeAnalysis;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Wav;

/// <summary>An open recording, read block by block from its start: 8 to 32 bit integers, 32 and 64 bit floats, extensible, RF64, BW64 and broadcast WAV, whatever length it claims. One reader at a time.</summary>
public sealed class WavFile : IDisposable
{
    /// <summary>The loudest sample believed, as a multiple of full scale (+120 dBFS): a float file's garbage is not sound.</summary>
    public const double LoudestBelieved = 1e6;

    private const int SamplesPerBlock = 65_536;

    private readonly Stream _stream;
    private readonly ISampleSource _source;
    private readonly double[] _interleaved;
    private long _framesLeft;

    private WavFile(Stream stream, WavHeader header)
    {
        _stream = stream;
        Format = header.Format;
        Frames = _framesLeft = header.Frames;
        Repair = header.Repair;
        BlockFrames = Math.Max(64, SamplesPerBlock / Format.Channels);
        _interleaved = new double[BlockFrames * Format.Channels];
        stream.Position = header.DataStart;
        _source = ISampleSource.For(stream, Format);
    }

    /// <summary>What the samples look like.</summary>
    public WavFormat Format { get; }

    /// <summary>Samples per channel.</summary>
    public long Frames { get; }

    /// <summary>Length in seconds.</summary>
    public double DurationS => (double)Frames / Format.SampleRate;

    /// <summary>What the header got wrong and was put right, in a sentence; <see langword="null"/> where nothing.</summary>
    public string? Repair { get; }

    /// <summary>Samples met so far that were no number or louder than <see cref="LoudestBelieved"/>; each was read as silence.</summary>
    public long Unbelievable { get; private set; }

    /// <summary>The most samples per channel that one <see cref="Read"/> gives.</summary>
    public int BlockFrames { get; }

    /// <summary>Opens a file; never throws for what the file holds or for what the system says about it.</summary>
    public static bool TryOpen(string path, [NotNullWhen(true)] out WavFile? file, [NotNullWhen(false)] out WavError? error)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        FileStream? stream = null;
        try
        {
            stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, bufferSize: 65_536);
            if (TryOpen(stream, out file, out error))
                return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            (file, error) = (null, Unreadable(e));
        }

        stream?.Dispose();
        return false;
    }

    /// <summary>Reads from a stream that can seek. The file owns the stream from then on, but not where opening fails.</summary>
    public static bool TryOpen(Stream stream, [NotNullWhen(true)] out WavFile? file, [NotNullWhen(false)] out WavError? error)
    {
        ArgumentNullException.ThrowIfNull(stream);
        (var header, error) = WavHeader.Read(stream);
        file = header is null ? null : new WavFile(stream, header);
        return file is not null;
    }

    /// <summary>An error for what the system said about a file.</summary>
    public static WavError Unreadable(Exception cause) => new(WavFault.Unreadable, cause switch
    {
        FileNotFoundException or DirectoryNotFoundException => "There is no such file.",
        UnauthorizedAccessException => "The file may not be read, or it is a folder.",
        _ => "The system could not read the file.",
    });

    /// <summary>A block of the right size for <see cref="Read"/>.</summary>
    public SampleBlock NewBlock() => new(Format.Channels, BlockFrames);

    /// <summary>Fills the block with what comes next; <see langword="false"/> at the end.</summary>
    /// <exception cref="IOException">The system could not read on.</exception>
    public bool Read(SampleBlock block)
    {
        ArgumentNullException.ThrowIfNull(block);
        var wanted = (int)Math.Min(Math.Min(block.Capacity, BlockFrames), _framesLeft);
        var frames = _source.Read(_interleaved.AsSpan(0, wanted * Format.Channels)) / Format.Channels;
        _framesLeft = frames == wanted ? _framesLeft - frames : 0;
        block.Resize(frames);
        var read = _interleaved.AsSpan(0, frames * Format.Channels);
        if (!AllBelieved(read))
            Unbelievable += Silence(read);
        for (var channel = 0; channel < Format.Channels; channel++)
            Part(read, Format.Channels, channel, block.Fill(channel));
        return frames > 0;
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static bool AllBelieved(ReadOnlySpan<double> samples)
    {
        var vectors = MemoryMarshal.Cast<double, Vector<double>>(samples);
        foreach (var vector in vectors)
        {
            if (!Vector.LessThanOrEqualAll(Vector.Abs(vector), new Vector<double>(LoudestBelieved)))
                return false;
        }

        foreach (var sample in samples[(vectors.Length * Vector<double>.Count)..])
        {
            if (!(Math.Abs(sample) <= LoudestBelieved))
                return false;
        }

        return true;
    }

    /// <summary>Makes silence of what is not believed, and counts it.</summary>
    private static long Silence(Span<double> samples)
    {
        var unbelievable = 0L;
        foreach (ref var sample in samples)
        {
            if (Math.Abs(sample) <= LoudestBelieved)
                continue;
            sample = 0;
            unbelievable++;
        }

        return unbelievable;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Part(ReadOnlySpan<double> interleaved, int channels, int channel, Span<double> samples)
    {
        for (int i = 0, at = channel; i < samples.Length && at < interleaved.Length; i++, at += channels)
            samples[i] = interleaved[at];
    }
}
