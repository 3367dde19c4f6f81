using System.Collections;
using System.Globalization;
using System.Text.RegularExpressions;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Pages.Wording;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed partial class WordsTests
{
    [Theory]
    [InlineData("de")]
    public void Every_text_has_its_translation_with_the_same_places_to_fill(string language)
    {
        var (english, translated) = (Texts(CultureInfo.InvariantCulture), Texts(CultureInfo.GetCultureInfo(language)));
        Assert.Equal(english.Keys.Order(StringComparer.Ordinal), translated.Keys.Order(StringComparer.Ordinal));
        Assert.All(english, text => Assert.Equal(Places(text.Value), Places(translated[text.Key])));
    }

    [Fact]
    public void No_word_of_the_page_is_missing()
    {
        var words = typeof(Words).GetProperties().Where(one => one.PropertyType == typeof(string)).Select(one => (string?)one.GetValue(null))
            .Concat(Words.Key.Select(one => one.Text))
            .Concat(Words.Refusals.Select(one => one.Text))
            .Concat(Enum.GetValues<AlarmKind>().Select(Words.Kind))
            .Concat(Enum.GetValues<AlarmPriority>().Select(Words.Priority))
            .Concat(Enum.GetValues<ProposalState>().Select(Words.State))
            .OfType<string>();
        // A text that is missing shows its own name.
        Assert.DoesNotContain(words, word => LikeAName().IsMatch(word));
    }

    [Theory]
    [InlineData("en", "No proposal waits.")]
    [InlineData("de", "Kein Vorschlag wartet.")]
    [InlineData("fr", "No proposal waits.")]
    public void The_language_is_that_of_whoever_looks_and_english_where_it_is_not_spoken(string language, string words)
    {
        var before = CultureInfo.CurrentUICulture;
        CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(language);
        try
        {
            Assert.Equal(words, Words.Waiting(0));
            Assert.Equal("\u22126.0", Words.Db(-6));
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    private static Dictionary<string, string> Texts(CultureInfo culture) =>
        Words.Texts.GetResourceSet(culture, createIfNotExists: true, tryParents: false)!.Cast<DictionaryEntry>().ToDictionary(one => (string)one.Key, one => (string)one.Value!);

    private static IEnumerable<string> Places(string text) => Place().Matches(text).Select(match => match.Value).Order(StringComparer.Ordinal);

    [GeneratedRegex(@"\{\w+\}", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Place();

    [GeneratedRegex("^[A-Z][a-z]+[A-Z][A-Za-z]+$", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex LikeAName();
}
