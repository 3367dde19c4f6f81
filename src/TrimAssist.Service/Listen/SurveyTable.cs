using System.Globalization;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Listen;

/// <summary>Shows what was heard: one line for addresses that differ in one number only.</summary>
internal static class SurveyTable
{
    /// <summary>Writes the table.</summary>
    public static void Write(WireSurvey survey, TextWriter output)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{survey.Packets} packets from {string.Join(", ", survey.Senders)}; {survey.Unreadable} not readable as OSC"));
        var families = AddressGroup.Of(survey.Tallies);
        var width = Math.Clamp(families.Count == 0 ? 0 : families.Max(family => family.Template.Length), 10, 60);
        foreach (var family in families)
        {
            var inputs = family.NamesInput ? $"{family.Inputs[0]}-{family.Inputs[^1]}" : "";
            var rate = family.PerSecond is { } perSecond ? string.Create(CultureInfo.InvariantCulture, $"{perSecond:0.0}/s") : "";
            output.WriteLine($"{Printable(family.Template).PadRight(width)}  {inputs,-8}  ,{Printable(family.Types),-8}  {rate,9}  {Values(family)}");
        }

        if (survey.TooMany > 0)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{survey.TooMany} messages more under further addresses"));
    }

    /// <summary>The values of a family in a few words.</summary>
    public static string Values(AddressGroup family)
    {
        var shown = new List<string>();
        for (var index = 0; index < Math.Min(8, family.Members[0].Arguments.Count); index++)
            shown.Add(Value(family, index));
        return string.Join(", ", shown) + (family.Members[0].Arguments.Count > 8 ? ", …" : "");
    }

    private static string Value(AddressGroup family, int index)
    {
        if (family.RangeOf(index) is var (low, high))
            return string.Create(CultureInfo.InvariantCulture, $"{low:0.###}..{high:0.###}");
        if (family.Members[0].Arguments[index].Tag == OscTypeTag.Blob && family.Members[0].Blobs is [var first, ..])
            return $"blob of {first.Length} bytes{(BlobGuess.Of(family.Members[0].Blobs) is { } guess ? Packed(guess) : "")}";
        return family.Members[0].Arguments[index].Text is { } text ? $"\"{Printable(text)}\"" : "-";
    }

    private static string Packed(BlobGuess guess) => string.Create(
        CultureInfo.InvariantCulture,
        $" (perhaps {guess.Count} {ProfileDraft.NameOf(guess.Element)}, {(guess.IsLittle ? "little" : "big")} endian, after {guess.SkipBytes} bytes: {guess.Lowest:0.###}..{guess.Highest:0.###})");

    private static string Printable(string text) => string.Concat(text.Select(c => char.IsControl(c) ? '?' : c));
}
