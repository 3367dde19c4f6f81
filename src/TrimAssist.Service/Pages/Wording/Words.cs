using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;

namespace TrimAssist.Service.Pages.Wording;

/// <summary>
/// Every word of the page that does not come from the service's core, in the language of whoever looks: Texts.resx holds English,
/// Texts.de.resx German. What the core says is put into that language by <see cref="CoreSentences"/>, and stays English where it is not known there.
/// </summary>
internal static partial class Words
{
    /// <summary>The languages that the page speaks, by name and as they call themselves.</summary>
    public static readonly IReadOnlyList<(string Name, string Called)> Languages = [("en", "English"), ("de", "Deutsch")];

    /// <summary>The page's language now.</summary>
    public static string Language => Languages.FirstOrDefault(one => string.Equals(one.Name, CultureInfo.CurrentUICulture.Name, StringComparison.Ordinal)).Name ?? "en";

    /// <summary>The texts themselves: for the test that none is missing.</summary>
    internal static readonly ResourceManager Texts = new("TrimAssist.Service.Pages.Wording.Texts", typeof(Words).Assembly);

    /// <summary>What the core says, in the page's language if it is known there.</summary>
    public static Sentence Core(string? english) => english switch
    {
        null or "" => new("", null),
        _ when Language is "en" => new(english, null),
        _ => CoreSentences.In(CultureInfo.CurrentUICulture, english) is { } said ? new(said, null) : new(english, "en"),
    };

    internal static string Text([CallerMemberName] string name = "") => Texts.GetString(name, CultureInfo.CurrentUICulture) ?? name;

    internal static string Filled(string name, params ReadOnlySpan<object?> values) => string.Format(CultureInfo.InvariantCulture, Text(name), values);
}
