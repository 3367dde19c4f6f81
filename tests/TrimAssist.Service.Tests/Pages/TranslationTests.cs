using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text.RegularExpressions;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Service.Pages.Wording;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

/// <summary>What the service says, said in the language of whoever looks.</summary>
public sealed partial class TranslationTests
{
    private static readonly CultureInfo German = CultureInfo.GetCultureInfo("de");

    // Wherever sentences are made, they are made by the members of a class of them.
    private static readonly List<MethodInfo> Makers =
    [
        .. new[] { typeof(Saying), typeof(DeskSession), typeof(Words) }.SelectMany(one => one.Assembly.GetTypes())
            .Where(type => type.Name.EndsWith("Sayings", StringComparison.Ordinal))
            .SelectMany(type => type.GetMethods(BindingFlags.Static | BindingFlags.Public))
            .Where(method => method.ReturnType == typeof(Saying)),
    ];

    [Fact]
    public void Every_sentence_is_known_in_german_with_the_same_places_to_fill()
    {
        Assert.True(Makers.Count > 100);
        Assert.All(Makers.Select(maker => Made(maker)).Append(Saying.Both(Saying.Plain("a"), Saying.Plain("b"))), saying =>
        {
            var german = Translation.Sentences(German)!.GetString(saying.Code!);
            Assert.True(german is not null, $"{saying.Code}: {saying}");
            Assert.Equal(Enumerable.Range(0, saying.Parts.Count).Select(place => $"{{{place}}}"), Place().Matches(german).Select(match => match.Value).Distinct().Order(StringComparer.Ordinal));
        });
    }

    [Fact]
    public void Every_sentence_has_a_code_of_its_own_and_none_is_kept_that_nobody_says()
    {
        var codes = Makers.Select(maker => Made(maker).Code!).Append(nameof(Saying.Both)).ToList();
        Assert.Equal(codes.Count, codes.Distinct(StringComparer.Ordinal).Count());
        Assert.Empty(Translation.Sentences(German)!.Cast<DictionaryEntry>().Select(one => (string)one.Key).Except(codes));
    }

    [Fact]
    public void A_sentence_is_said_in_german_with_its_figures_and_the_sentences_within_it() => InGerman(() =>
    {
        Assert.Equal(
            new Sentence("In der Show wird mit 22 dB Trim eine Spitze von 2.2 dBFS erwartet (Soundcheck: −5.1): herunter, um nahe −12 zu landen.", null),
            Words.Said(Made("TrimExpectedDown", "2.2", 22.0, Made("TrimHeard", "−5.1"), "−12")));
        Assert.Equal(
            "Der Stecker ist gewechselt, der Eingang ist ruhig. Es klingt wie vorher. Erst den Fader herunter.", Words.Said(Made("PatchOpen", Made("PatchAsBefore"))).Text);
        Assert.Equal(
            "Dreh die Quelle um 6 dB zurück: der Eingang von box übersteuert, und nichts dahinter kann das richten.",
            Words.Said(Made("ClipsTurn", Made("TheSource"), 6.0, Made("ClipsInput", "box"))).Text);
        Assert.StartsWith("Phantomspeisung ist an", Words.Said(SafePatch.CautionOf(true)).Text, StringComparison.Ordinal);
    });

    [Fact]
    public void Words_that_nobody_can_translate_stay_and_are_marked_as_english() => InGerman(() =>
        Assert.Equal(new Sentence("Something nobody foresaw.", "en"), Words.Said(Saying.Plain("Something nobody foresaw."))));

    [Fact]
    public void In_english_it_is_said_as_every_record_holds_it()
    {
        Assert.Equal(new Sentence("heard 3 s of playing, want 10", null), Words.Said(Made("CheckMore", 3.0, 10.0)));
        Assert.Equal(Made("CheckMore", 3.0, 10.0), Saying.Plain("heard 3 s of playing, want 10"));
    }

    private static Saying Made(string code, params object[] with) =>
        (Saying)Makers.Single(maker => Name(maker) == code).Invoke(null, with)!;

    // A property's getter is a method like any other.
    private static string Name(MethodInfo maker) => maker.Name.StartsWith("get_", StringComparison.Ordinal) ? maker.Name[4..] : maker.Name;

    private static Saying Made(MethodInfo maker) => (Saying)maker.Invoke(null, [.. maker.GetParameters().Select(place => Sample(place.ParameterType))])!;

    private static object Sample(Type type) => type == typeof(Saying) ? Saying.Plain("it") : type == typeof(string) ? "it" : Convert.ChangeType(7, type, CultureInfo.InvariantCulture);

    private static void InGerman(Action act)
    {
        var before = CultureInfo.CurrentUICulture;
        CultureInfo.CurrentUICulture = German;
        try
        {
            act();
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    [GeneratedRegex(@"\{\d+\}", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Place();
}
