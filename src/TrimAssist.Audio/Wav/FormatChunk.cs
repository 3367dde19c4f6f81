using System.Buffers.Binary;

namespace TrimAssist.Audio.Wav;

/// <summary>Reads a WAV file's <c>fmt </c> chunk (Microsoft and IBM, Multimedia Programming Interface and Data Specifications 1.0; WAVEFORMATEXTENSIBLE).</summary>
internal static class FormatChunk
{
    /// <summary>The most bytes of the chunk that are looked at.</summary>
    public const int Longest = 40;

    private const int Shortest = 16;
    private const int ExtensibleTag = 0xFFFE;

    private static ReadOnlySpan<byte> SubformatTail => [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xAA, 0, 0x38, 0x9B, 0x71];

    /// <summary>The format, or the reason why there is none; exactly one of the two is <see langword="null"/>.</summary>
    public static (WavFormat? Format, WavError? Error) Read(ReadOnlySpan<byte> chunk)
    {
        if (chunk.Length < Shortest)
            return (null, new(WavFault.Truncated, "The description of the samples is cut short."));
        int tag = BinaryPrimitives.ReadUInt16LittleEndian(chunk);
        if (tag == ExtensibleTag)
        {
            if (chunk.Length < Longest || !chunk[26..Longest].SequenceEqual(SubformatTail))
                return Refuse("The kind of samples is one this program does not know.");
            tag = BinaryPrimitives.ReadUInt16LittleEndian(chunk[24..]);
        }

        return Judge(
            tag,
            channels: BinaryPrimitives.ReadUInt16LittleEndian(chunk[2..]),
            rate: BinaryPrimitives.ReadUInt32LittleEndian(chunk[4..]),
            bytesPerFrame: BinaryPrimitives.ReadUInt16LittleEndian(chunk[12..]),
            bits: BinaryPrimitives.ReadUInt16LittleEndian(chunk[14..]));
    }

    private static (WavFormat? Format, WavError? Error) Judge(int tag, int channels, uint rate, int bytesPerFrame, int bits)
    {
        if (tag is not (1 or 3))
            return Refuse($"The samples are compressed (format 0x{tag:X4}); save the recording as PCM.");
        if (channels is < 1 or > WavFormat.MaxChannels)
            return Refuse($"The file claims {channels} channels; 1 to {WavFormat.MaxChannels} are read.");
        if (rate is < WavFormat.MinSampleRate or > WavFormat.MaxSampleRate)
            return Refuse($"The file claims {rate} samples per second; {WavFormat.MinSampleRate} to {WavFormat.MaxSampleRate} are read.");
        var room = (bits + 7) / 8;
        var readable = tag == 1 ? room is >= 1 and <= 4 : bits is 32 or 64;
        if (!readable)
            return Refuse($"Samples of {bits} bits are not read; 8 to 32 bit integers and 32 or 64 bit floats are.");
        if (bytesPerFrame != channels * room)
            return Refuse($"The description contradicts itself: {channels} channels of {bits} bits do not take {bytesPerFrame} bytes.");
        return (new WavFormat((int)rate, channels, tag == 1 ? SampleEncoding.WholeNumber : SampleEncoding.FloatingPoint, room), null);
    }

    private static (WavFormat? Format, WavError? Error) Refuse(string reason) => (null, new(WavFault.Unsupported, reason));
}
