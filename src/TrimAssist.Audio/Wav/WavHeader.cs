using System.Buffers.Binary;

namespace TrimAssist.Audio.Wav;

/// <summary>Where a recording's samples lie and what they look like.</summary>
/// <param name="Format">What the samples look like.</param>
/// <param name="DataStart">The first sample's byte in the file.</param>
/// <param name="Frames">Samples per channel that really are there.</param>
/// <param name="Repair">What the header got wrong, in a sentence for the user; <see langword="null"/> where nothing.</param>
internal sealed record WavHeader(WavFormat Format, long DataStart, long Frames, string? Repair)
{
    private const int RiffBytes = 12;
    private const int MostChunks = 4_096;

    /// <summary>Walks the chunks of RIFF/WAVE, RF64 (EBU Tech 3306) and BW64 (ITU-R BS.2088) up to the samples.</summary>
    /// <remarks>An own walk, because a recorder that lost power leaves sizes of zero, and readers that trust them find nothing.</remarks>
    public static (WavHeader? Header, WavError? Error) Read(Stream stream)
    {
        var length = stream.Length;
        if (length == 0)
            return Fail(WavFault.Empty, "The file is empty.");
        Span<byte> riff = stackalloc byte[RiffBytes];
        var got = ReadAt(stream, 0, riff);
        var wide = StartsWith(riff, "RF64"u8) || StartsWith(riff, "BW64"u8);
        if (!wide && !StartsWith(riff[..got], "RIFF"u8))
            return Fail(WavFault.NotWav, "This is not a WAV file.");
        if (got < RiffBytes)
            return Fail(WavFault.Truncated, "The file ends inside its header.");
        if (!StartsWith(riff[8..], "WAVE"u8))
            return Fail(WavFault.NotWav, "This is not a WAV file.");
        return Walk(stream, length, wide, BinaryPrimitives.ReadUInt32LittleEndian(riff[4..]));
    }

    private static (WavHeader? Header, WavError? Error) Walk(Stream stream, long length, bool wide, uint riffSize)
    {
        WavFormat? format = null;
        ulong? wideDataSize = null;
        Span<byte> head = stackalloc byte[8];
        Span<byte> body = stackalloc byte[FormatChunk.Longest];
        long position = RiffBytes;
        for (var count = 0; count < MostChunks && ReadAt(stream, position, head) == head.Length; count++)
        {
            var size = BinaryPrimitives.ReadUInt32LittleEndian(head[4..]);
            position += head.Length;
            if (StartsWith(head, "data"u8))
            {
                if (format is null)
                    return Fail(WavFault.Unsupported, "The samples come before their description.");
                var declared = wideDataSize is { } known && size == uint.MaxValue ? known : size;
                return Measure(format, position, length, declared, finished: !wide && riffSize == length - 8);
            }

            var part = body[..(int)Math.Min(size, FormatChunk.Longest)];
            if (StartsWith(head, "fmt "u8))
            {
                var (read, error) = FormatChunk.Read(part[..ReadAt(stream, position, part)]);
                if (read is null)
                    return (null, error);
                format = read;
            }
            else if (wide && StartsWith(head, "ds64"u8) && ReadAt(stream, position, part) >= 16)
            {
                wideDataSize = BinaryPrimitives.ReadUInt64LittleEndian(part[8..]);
            }

            position = AfterPadding(stream, position + size, odd: (size & 1) != 0);
        }

        return Fail(WavFault.Truncated, "The file ends before its first sample.");
    }

    private static (WavHeader? Header, WavError? Error) Measure(WavFormat format, long start, long length, ulong declared, bool finished)
    {
        var there = length - start;
        if (there < format.BytesPerFrame || (declared == 0 && finished))
            return Fail(WavFault.NoSamples, "The file holds no samples.");
        var unfinished = declared == 0 || declared >= uint.MaxValue - 1 && declared > (ulong)there;
        var bytes = unfinished ? there : (long)Math.Min(declared, (ulong)there);
        var frames = bytes / format.BytesPerFrame;
        if (frames == 0)
            return Fail(WavFault.NoSamples, "The file holds no samples.");
        var seconds = (double)frames / format.SampleRate;
        var repair = unfinished
            ? $"The recording was never finished, its header gives no length; all that follows was read: {seconds:0.###} s."
            : declared > (ulong)there
                ? $"The file is cut short: its header promises {declared / (double)format.BytesPerFrame / format.SampleRate:0.###} s, {seconds:0.###} s are there."
                : null;
        return (new WavHeader(format, start, frames, repair), null);
    }

    /// <summary>Chunks start at even bytes, yet some writers forget the padding byte, which must be zero.</summary>
    private static long AfterPadding(Stream stream, long position, bool odd)
    {
        Span<byte> padding = stackalloc byte[1];
        return odd && ReadAt(stream, position, padding) == 1 && padding[0] == 0 ? position + 1 : position;
    }

    private static int ReadAt(Stream stream, long position, Span<byte> into)
    {
        if (position >= stream.Length)
            return 0;
        stream.Position = position;
        return stream.ReadAtLeast(into, into.Length, throwOnEndOfStream: false);
    }

    private static bool StartsWith(ReadOnlySpan<byte> bytes, ReadOnlySpan<byte> id) => bytes.StartsWith(id);

    private static (WavHeader? Header, WavError? Error) Fail(WavFault fault, string reason) => (null, new(fault, reason));
}
