using System.Globalization;
using System.Text;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>What a place in braces stands for.</summary>
internal enum Placeholder
{
    /// <summary>Nothing: the part is literal.</summary>
    None,

    /// <summary>The input's number.</summary>
    Input,

    /// <summary>The socket that feeds the input.</summary>
    Socket,
}

/// <summary>One part of a template: literal bytes, or a place in braces with its offset and padding.</summary>
/// <param name="Literal">The bytes of a literal part; empty for a place.</param>
/// <param name="Stands">What the place stands for.</param>
/// <param name="Offset">Added to the number on the wire: −1 for <c>{input-1}</c>.</param>
/// <param name="Width">Least number of digits, from <c>{input:00}</c>; 1 without padding.</param>
/// <param name="Numeric">Whether a socket has to be a number here, because the place counts or pads.</param>
internal readonly record struct TemplatePart(byte[] Literal, Placeholder Stands, int Offset, int Width, bool Numeric)
{
    private const int MostDigits = 9;

    /// <summary>Writes the place; <see langword="false"/> where the value cannot stand here.</summary>
    public bool TryWrite(StringBuilder text, int input, string? socket)
    {
        switch (Stands)
        {
            case Placeholder.None:
                text.Append(Encoding.UTF8.GetString(Literal));
                return true;
            case Placeholder.Input:
                return TryWriteNumber(text, input);
            default:
                if (Numeric)
                    return int.TryParse(socket, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && TryWriteNumber(text, number);
                text.Append(socket);
                return !string.IsNullOrEmpty(socket) && socket.AsSpan().IndexOfAny(TemplateSyntax.NotInNames) < 0;
        }
    }

    /// <summary>Reads a number that this place would have written; <see langword="false"/> for any other text.</summary>
    public bool TryReadNumber(ReadOnlySpan<byte> bytes, out int value, out int length)
    {
        value = 0;
        length = 0;
        while (length < bytes.Length && bytes[length] is >= (byte)'0' and <= (byte)'9')
        {
            if (length == MostDigits)
                return false;
            value = (value * 10) + (bytes[length++] - '0');
        }

        // A leading zero is the padding's, or it is another address.
        var padded = length > 1 && bytes[0] == (byte)'0';
        if (length < Width || (padded && length > Width))
            return false;
        value -= Offset;
        return true;
    }

    private bool TryWriteNumber(StringBuilder text, int number)
    {
        var shown = number + Offset;
        if (shown < 0)
            return false;
        text.Append(shown.ToString(CultureInfo.InvariantCulture).PadLeft(Width, '0'));
        return true;
    }
}
