using System.Buffers.Binary;

namespace TrimAssist.Protocols.Osc;

/// <summary>The form of an OSC-blob: its length in 32 bits, its bytes, zeros up to a multiple of four (OSC 1.0, "Atomic Data Types").</summary>
internal static class OscBlob
{
    private const int HeadSize = sizeof(int);

    /// <summary>Whether these bytes begin with a whole blob.</summary>
    public static OscError Check(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < HeadSize)
            return OscError.Truncated;
        var length = BinaryPrimitives.ReadUInt32BigEndian(bytes);
        if (length > (uint)(bytes.Length - HeadSize))
            return OscError.BadBlobSize;
        var end = SizeOf((int)length);
        if (end > bytes.Length)
            return OscError.Truncated;

        // The last four bytes, the blob's own shifted out.
        var own = (int)length & 3;
        return own == 0 || BinaryPrimitives.ReadUInt32BigEndian(bytes[(end - sizeof(uint))..]) << (8 * own) == 0 ? OscError.None : OscError.DirtyPadding;
    }

    /// <summary>The bytes of a blob that was checked, without its padding.</summary>
    public static ReadOnlySpan<byte> Content(ReadOnlySpan<byte> bytes) => bytes.Slice(HeadSize, BinaryPrimitives.ReadInt32BigEndian(bytes));

    /// <summary>Bytes that a blob of this length takes, its head and its padding included.</summary>
    public static int SizeOf(int length) => HeadSize + ((length + 3) & ~3);
}
