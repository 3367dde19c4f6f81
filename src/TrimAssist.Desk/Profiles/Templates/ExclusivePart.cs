namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>What a part of a system exclusive message is.</summary>
internal enum ExclusivePlace
{
    /// <summary>A fixed byte.</summary>
    Byte,

    /// <summary>The input's number.</summary>
    Input,

    /// <summary>The value, or the first of many.</summary>
    Value,

    /// <summary>The checksum of what stands before.</summary>
    Checksum,
}

/// <summary>One part of a system exclusive message.</summary>
/// <param name="Place">What it is.</param>
/// <param name="Number">The fixed byte, or what is added to the input's number.</param>
/// <param name="Width">How many bytes of seven bits.</param>
/// <param name="LowFirst">Whether the lower seven bits come first.</param>
internal readonly record struct ExclusivePart(ExclusivePlace Place, int Number, int Width, bool LowFirst = false)
{
    private const int BitsPerByte = 7;

    /// <summary>One more than the largest number that fits.</summary>
    public int Room => 1 << (BitsPerByte * Width);

    /// <summary>Writes a number; <see langword="false"/> where it does not fit.</summary>
    public bool TryWrite(int number, Span<byte> destination)
    {
        if (number < 0 || number >= Room)
            return false;
        for (var i = 0; i < Width; i++)
            destination[LowFirst ? i : Width - 1 - i] = (byte)((number >> (BitsPerByte * i)) & 0x7F);
        return true;
    }

    /// <summary>Reads the number.</summary>
    public int Read(ReadOnlySpan<byte> source)
    {
        var number = 0;
        for (var i = 0; i < Width; i++)
            number |= source[LowFirst ? i : Width - 1 - i] << (BitsPerByte * i);
        return number;
    }
}
