using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Pages.Wording;

/// <summary>
/// Every word of the page itself, in the language of whoever looks: Texts.resx holds English, Texts.de.resx German. What the service says
/// comes as a <see cref="Saying"/>, and is put into that language by <see cref="Translation"/>.
/// </summary>
internal static partial class Words
{
    /// <summary>The languages that the page speaks, by name and as they call themselves.</summary>
    public static readonly IReadOnlyList<(string Name, string Called)> Languages = [("en", "English"), ("de", "Deutsch")];

    /// <summary>The page's language now.</summary>
    public static string Language => Languages.FirstOrDefault(one => string.Equals(one.Name, CultureInfo.CurrentUICulture.Name, StringComparison.Ordinal)).Name ?? "en";

    /// <summary>The texts themselves: for the test that none is missing.</summary>
    internal static readonly ResourceManager Texts = new("TrimAssist.Service.Pages.Wording.Texts", typeof(Words).Assembly);

    /// <summary>What the service says, in the page's language if it is known there.</summary>
    public static Sentence Said(Saying? saying) => saying switch
    {
        null => new("", null),
        _ when Language is "en" => new(saying, null),
        _ => Translation.In(CultureInfo.CurrentUICulture, saying) is { } said ? new(said, null) : new(saying, "en"),
    };

    internal static string Text([CallerMemberName] string name = "") => Texts.GetString(name, CultureInfo.CurrentUICulture) ?? name;

    internal static string Filled(string name, params ReadOnlySpan<object?> values) => string.Format(CultureInfo.InvariantCulture, Text(name), values);
}
