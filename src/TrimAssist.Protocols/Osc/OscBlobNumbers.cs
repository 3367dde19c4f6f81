using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace TrimAssist.Protocols.Osc;

/// <summary>Reads a blob that packs numbers of one type without gaps. Nothing is allocated; all answer how many numbers were read: as many as the blob holds whole and the destination takes.</summary>
public static class OscBlobNumbers
{
    /// <summary>Reads 32-bit floats.</summary>
    public static int ReadFloats(ReadOnlySpan<byte> blob, Span<float> destination, bool littleEndian = false)
        => ReadInt32s(blob, MemoryMarshal.Cast<float, int>(destination), littleEndian);

    /// <summary>Reads 32-bit integers.</summary>
    public static int ReadInt32s(ReadOnlySpan<byte> blob, Span<int> destination, bool littleEndian = false)
    {
        var source = MemoryMarshal.Cast<byte, int>(blob);
        var count = Math.Min(source.Length, destination.Length);
        if (littleEndian == BitConverter.IsLittleEndian)
            source[..count].CopyTo(destination);
        else
            BinaryPrimitives.ReverseEndianness(source[..count], destination);
        return count;
    }

    /// <summary>Reads 16-bit integers.</summary>
    public static int ReadInt16s(ReadOnlySpan<byte> blob, Span<short> destination, bool littleEndian = false)
    {
        var source = MemoryMarshal.Cast<byte, short>(blob);
        var count = Math.Min(source.Length, destination.Length);
        if (littleEndian == BitConverter.IsLittleEndian)
            source[..count].CopyTo(destination);
        else
            BinaryPrimitives.ReverseEndianness(source[..count], destination);
        return count;
    }
}
