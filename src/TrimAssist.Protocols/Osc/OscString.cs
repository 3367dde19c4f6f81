using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace TrimAssist.Protocols.Osc;

/// <summary>The form of an OSC-string: a zero ends it, zeros pad it to a multiple of four bytes (OSC 1.0, "Atomic Data Types").</summary>
internal static class OscString
{
    /// <summary>Stands for the length of what is no whole string.</summary>
    public const int Faulty = -1;

    /// <summary>The length without its zeros of the string that these bytes begin with; <see cref="Faulty"/> where it does not end or its padding is not zero.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static int LengthOf(ReadOnlySpan<byte> bytes)
    {
        // Names are short: four bytes at a time beat a search.
        var words = MemoryMarshal.Cast<byte, uint>(bytes);
        for (var i = 0; i < words.Length; i++)
        {
            var word = BitConverter.IsLittleEndian ? words[i] : BinaryPrimitives.ReverseEndianness(words[i]);
            var zeros = (word - 0x0101_0101) & ~word & 0x8080_8080;
            if (zeros == 0)
                continue;

            // The lowest mark is exact: it stands in the first byte that is zero.
            var left = BitOperations.TrailingZeroCount(zeros) & ~7;
            return word >> left == 0 ? (i * sizeof(uint)) + (left >> 3) : Faulty;
        }

        return Faulty;
    }

    /// <summary>Bytes that a string of this length takes, its zeros included.</summary>
    public static int SizeOf(int length) => (length | 3) + 1;

    /// <summary>What is wrong with a string that is <see cref="Faulty"/>.</summary>
    public static OscError FaultOf(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty)
            return OscError.Truncated;
        var length = bytes.IndexOf((byte)0);
        return length < 0 ? OscError.NotTerminated : SizeOf(length) <= bytes.Length ? OscError.DirtyPadding : OscError.Truncated;
    }
}
