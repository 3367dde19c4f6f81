using System.Buffers;
using System.Globalization;
using System.Text;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>Reads the places in braces: <c>{input}</c>, <c>{input:00}</c>, <c>{input-1}</c>, <c>{input-1:00}</c>, and the same with <c>socket</c>.</summary>
internal static class TemplateSyntax
{
    /// <summary>Characters that cannot stand inside one name of an address (OSC 1.0, "OSC Address Spaces").</summary>
    public static SearchValues<char> NotInNames { get; } = SearchValues.Create(" #*,/?[]{}");

    /// <summary>Bytes that cannot stand in an address at all: those forbidden in names, but for the slash, and control characters.</summary>
    public static SearchValues<byte> NotInAddresses { get; } = SearchValues.Create([.. " #*,?[]{}"u8, .. Enumerable.Range(0, 32).Select(b => (byte)b)]);

    /// <summary>Splits a text into its parts.</summary>
    /// <returns><see langword="null"/> when all is well, else what is wrong.</returns>
    public static string? Split(string text, List<TemplatePart> parts)
    {
        var at = 0;
        while (at < text.Length)
        {
            var open = text.IndexOf('{', at);
            var literal = open < 0 ? text[at..] : text[at..open];
            if (literal.Contains('}', StringComparison.Ordinal))
                return "has a } without its {";
            if (literal.Length > 0)
            {
                if (parts.Count > 0 && char.IsAsciiDigit(literal[0]))
                    return $"has a digit straight after {text[..at]}, so that nobody could tell where the number ends";
                parts.Add(new(Encoding.UTF8.GetBytes(literal), Placeholder.None, 0, 0, Numeric: false));
            }

            if (open < 0)
                return null;
            if (parts.Count > 0 && parts[^1].Stands != Placeholder.None)
                return "has two places in braces without anything between them";

            var close = text.IndexOf('}', open);
            if (close < 0)
                return "has a { without its }";
            if (Place(text[(open + 1)..close]) is not { } place)
                return $"{text[open..(close + 1)]} is none of {{input}}, {{input:00}}, {{input-1}}, {{input-1:00}}, {{socket}} and its like";
            parts.Add(place);
            at = close + 1;
        }

        return null;
    }

    private static TemplatePart? Place(string inner)
    {
        var (stands, rest) = inner switch
        {
            _ when inner.StartsWith("input", StringComparison.Ordinal) => (Placeholder.Input, inner[5..]),
            _ when inner.StartsWith("socket", StringComparison.Ordinal) => (Placeholder.Socket, inner[6..]),
            _ => (Placeholder.None, inner),
        };
        if (stands == Placeholder.None)
            return null;

        var colon = rest.IndexOf(':', StringComparison.Ordinal);
        var zeros = colon < 0 ? string.Empty : rest[(colon + 1)..];
        var sum = colon < 0 ? rest : rest[..colon];
        if (colon >= 0 && (zeros.Length is 0 or > 6 || zeros.AsSpan().ContainsAnyExcept('0')))
            return null;

        var offset = 0;
        if (sum.Length > 0 && (sum[0] is not ('-' or '+') || sum.Length > 6
            || !int.TryParse(sum, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out offset)))
        {
            return null;
        }

        return new([], stands, offset, Math.Max(1, zeros.Length), Numeric: sum.Length > 0 || zeros.Length > 0);
    }
}
