namespace TrimAssist.Protocols.Midi;

/// <summary>Variable-length quantities: seven bits a byte, the highest first, all but the last with the top bit set (Standard MIDI Files 1.0; RFC 6295, figure 4).</summary>
public static class VariableLength
{
    /// <summary>The largest value four bytes hold.</summary>
    public const uint MaxValue = 0x0FFF_FFFF;

    private const int MaxLength = 4;

    /// <summary>Reads a quantity of at most four bytes; false when it is cut or longer.</summary>
    public static bool TryRead(ReadOnlySpan<byte> bytes, out uint value, out int length)
    {
        value = 0;
        for (length = 0; length < Math.Min(bytes.Length, MaxLength);)
        {
            var next = bytes[length++];
            value = (value << 7) | (next & 0x7FU);
            if (next < 0x80)
                return true;
        }

        value = 0;
        length = 0;
        return false;
    }

    /// <summary>Writes a quantity in as few bytes as it takes; false when it is above <see cref="MaxValue"/> or does not fit.</summary>
    public static bool TryWrite(uint value, Span<byte> destination, out int length)
    {
        length = value < 1 << 7 ? 1 : value < 1 << 14 ? 2 : value < 1 << 21 ? 3 : MaxLength;
        if (value > MaxValue || destination.Length < length)
        {
            length = 0;
            return false;
        }

        for (var i = 0; i < length; i++)
        {
            var more = i < length - 1 ? 0x80U : 0;
            destination[i] = (byte)(((value >> (7 * (length - 1 - i))) & 0x7F) | more);
        }

        return true;
    }
}
