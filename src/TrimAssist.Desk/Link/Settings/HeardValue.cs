using System.Globalization;
using System.Text;
using TrimAssist.Desk.Profiles.Values;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Reads a control's value from a message's argument, whatever type the desk sends it in.</summary>
internal static class HeardValue
{
    private const int LongestText = 256;

    /// <summary>The value at an index; <see langword="null"/> for what can be no value: blobs, texts without end, NaN.</summary>
    public static WireValue? At(ref OscMessageReader message, int index)
    {
        if (!message.TrySeek(index))
            return null;

        var type = message.NextTag switch
        {
            OscTypeTag.Int32 or OscTypeTag.Int64 => WireType.Whole,
            OscTypeTag.True or OscTypeTag.False => WireType.Flag,
            OscTypeTag.Double => WireType.LongReal,
            _ => WireType.Real,
        };
        if (message.TryReadNumber(out var number))
            return double.IsNaN(number) || double.IsPositiveInfinity(number) ? null : new(type, number);
        return message.TryReadString(out var bytes) && bytes.Length <= LongestText ? new(WireType.Text, 0, Printable(bytes)) : null;
    }

    /// <summary>The value as a number; a text counts where it begins with one, as in "32.5 dB".</summary>
    public static double? AsNumber(WireValue value)
    {
        if (value.Text is not { } text)
            return value.Number;
        var word = text.AsSpan().Trim();
        var end = word.IndexOf(' ');
        if (end < 0 && word.EndsWith("dB", StringComparison.OrdinalIgnoreCase))
            end = word.Length - 2;
        return double.TryParse(end < 0 ? word : word[..end], NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;
    }

    private static string Printable(ReadOnlySpan<byte> bytes)
    {
        var text = Encoding.UTF8.GetString(bytes);
        return text.Any(char.IsControl) ? string.Concat(text.Where(c => !char.IsControl(c))) : text;
    }
}
