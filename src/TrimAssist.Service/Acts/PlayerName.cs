using System.Globalization;
using System.Text.RegularExpressions;

namespace TrimAssist.Service.Acts;

/// <summary>A player's name, as people write it and as it stands in text that nobody can read otherwise.</summary>
internal static partial class PlayerName
{
    /// <summary>Whether two spellings mean the same player.</summary>
    public static bool IsSame(string? player, string other) => string.Equals(player?.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether a text that should be JSON, and may be none, has the name as words of their own.</summary>
    public static bool IsIn(string text, string player)
    {
        var (plain, name) = (Unescape(text), player.Trim());
        for (var at = 0; name.Length > 0 && (at = plain.IndexOf(name, at, StringComparison.OrdinalIgnoreCase)) >= 0; at++)
        {
            if (!IsLetter(plain, at - 1) && !IsLetter(plain, at + name.Length))
                return true;
        }

        return false;
    }

    private static bool IsLetter(string text, int at) => at >= 0 && at < text.Length && char.IsLetterOrDigit(text[at]);

    private static string Unescape(string text) => Escaped().Replace(text, static found => found.Groups["code"] is { Success: true } code
        ? ((char)ushort.Parse(code.ValueSpan, NumberStyles.HexNumber, CultureInfo.InvariantCulture)).ToString()
        : found.Groups["sign"].Value);

    // JSON's ways to write a character otherwise, those aside that no name has (RFC 8259, 7).
    [GeneratedRegex(@"\\(u(?<code>[0-9a-fA-F]{4})|(?<sign>[""\\/]))", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Escaped();
}
