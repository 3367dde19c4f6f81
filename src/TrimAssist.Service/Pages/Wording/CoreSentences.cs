using System.Globalization;
using System.Resources;
using System.Text.RegularExpressions;

namespace TrimAssist.Service.Pages.Wording;

/// <summary>
/// The sentences that the service's core says in English, said in the page's language: Sentences.resx holds each as the core says it, with
/// places for its figures, Sentences.de.resx the German. A sentence that is not among them stays English.
/// </summary>
internal static class CoreSentences
{
    /// <summary>The sentences themselves: for the test that none is missing.</summary>
    internal static readonly ResourceManager Texts = new("TrimAssist.Service.Pages.Wording.Sentences", typeof(CoreSentences).Assembly);

    private static readonly TimeSpan LongestMatch = TimeSpan.FromMilliseconds(50);
    private static readonly IReadOnlyList<(string Key, Regex Form)> Forms = [.. Read().OrderBy(one => one.Form.GetGroupNumbers().Length).ThenBy(one => one.Key, StringComparer.Ordinal)];

    /// <summary>A sentence of the core in a language; <see langword="null"/> where it is not known.</summary>
    public static string? In(CultureInfo language, string english)
    {
        foreach (var (key, form) in Forms)
        {
            if (form.Match(english) is { Success: true } match && Texts.GetString(key, language) is { } said)
                return string.Format(CultureInfo.InvariantCulture, said, [.. match.Groups.Values.Skip(1).Select(part => (object)(In(language, part.Value) ?? part.Value))]);
        }

        return null;
    }

    // What has fewer places to fill is tried first: the more a form says itself, the surer it is.
    private static IEnumerable<(string Key, Regex Form)> Read()
    {
        foreach (System.Collections.DictionaryEntry one in Texts.GetResourceSet(CultureInfo.InvariantCulture, createIfNotExists: true, tryParents: false)!)
        {
            var words = Regex.Replace(Regex.Escape((string)one.Value!), @"\\\{\d+}", "(.+?)", RegexOptions.None, LongestMatch);
            yield return ((string)one.Key, new Regex($"^{words}$", RegexOptions.CultureInvariant | RegexOptions.Singleline, LongestMatch));
        }
    }
}
