using System.Globalization;
using System.Resources;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Pages.Wording;

/// <summary>
/// What the service says, in another language than English: each sentence by its code, from Sentences.de.resx. Where a sentence, or one
/// within it, has no translation it stays English.
/// </summary>
internal static class Translation
{
    private static readonly ResourceManager Texts = new("TrimAssist.Service.Pages.Wording.Sentences", typeof(Translation).Assembly);

    /// <summary>Every sentence of a language by its code; <see langword="null"/> for a language without any.</summary>
    public static ResourceSet? Sentences(CultureInfo language) => Texts.GetResourceSet(language, createIfNotExists: true, tryParents: false);

    /// <summary>A sentence in a language; <see langword="null"/> where it is not known there.</summary>
    public static string? In(CultureInfo language, Saying saying) => saying.Code is { } code && Sentences(language)?.GetString(code) is { } form
        ? string.Format(CultureInfo.InvariantCulture, form, [.. saying.Parts.Select(part => (object)(In(language, part) ?? part))])
        : null;
}
