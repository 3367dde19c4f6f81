using System.Text;
using System.Text.RegularExpressions;
using CsCheck;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>OSC 1.0, "OSC Message Dispatching and Pattern Matching"; the verdicts are derived from its rules, some also stand in liblo's test program.</summary>
public class Patterns
{
    [Theory]
    [InlineData("P1", "/second/[1-2]", "/second/2", true)]
    [InlineData("P2", "/second/[1-2]", "/second/3", false)]
    [InlineData("P3", "/third/*", "/third/a", true)]
    [InlineData("P4", "/third/*", "/third/a/b", false)]
    [InlineData("P5", "/?/b/*c", "/x/b/abc", true)]
    [InlineData("P6", "/?/b/*c", "/x/b/c", true)]
    [InlineData("P7", "/?/b/*c", "/a/b/cde", false)]
    [InlineData("P8", "/a?", "/a", false)]
    [InlineData("P9", "/ch[!0-4]", "/ch5", true)]
    [InlineData("P10", "/ch[!0-4]", "/ch3", false)]
    [InlineData("P11", "/ch[1-9]", "/ch10", false)]
    [InlineData("P12", "/x[23-]y", "/x-y", true)]
    [InlineData("P13", "/x[a-z!]y", "/x!y", true)]
    [InlineData("P14", "/x{1,10,11}y", "/x10y", true)]
    [InlineData("P15", "/x{1,10,11}y", "/x12y", false)]
    [InlineData("P16", "/{ab,a}b", "/ab", true)]
    [InlineData("P17", "/{foo,bar}", "/foobar", false)]
    [InlineData("P18", "/[A-C]x", "/bx", false)]
    [InlineData("P19", "/*/?", "/xy/z", true)]
    [InlineData("P20", "/?/*", "/xy/z", false)]
    [InlineData("P21", "/a/*", "/a", false)]
    [InlineData("P22", "//z", "/xy/z", true)]
    public void Rows_of_the_table(string row, string pattern, string address, bool matches)
    {
        Assert.NotEmpty(row);
        Assert.Equal(matches, OscPattern.Matches(Ascii(pattern), Ascii(address)));
        Assert.True(OscPattern.IsValid(Ascii(pattern)));
    }

    [Theory] // OSC 1.1 (NIME 2009, section 3.4): // crosses any number of parts
    [InlineData("//z", "/z", true)]
    [InlineData("//z", "/a/b/c/z", true)]
    [InlineData("/a//z", "/a/z", true)]
    [InlineData("/a//z", "/a/b/c/z", true)]
    [InlineData("/a//z", "/b/z", false)]
    [InlineData("//z", "/az", false)]
    [InlineData("//[ab]*//{x,y}", "/q/bee/r/s/y", true)]
    public void Two_slashes_stand_for_any_depth(string pattern, string address, bool matches)
        => Assert.Equal(matches, OscPattern.Matches(Ascii(pattern), Ascii(address)));

    [Theory]
    [InlineData("/[a")]
    [InlineData("/{a,b")]
    [InlineData("/a]")]
    [InlineData("/a}")]
    [InlineData("/{a,{b,c}}")]
    [InlineData("/{a/b}")]
    [InlineData("/[a/b]")]
    public void A_malformed_pattern_is_told_and_matches_nothing(string pattern)
    {
        Assert.False(OscPattern.IsValid(Ascii(pattern)));
        Assert.False(OscPattern.Matches(Ascii(pattern), "/a"u8));
        Assert.False(OscPattern.Matches(Ascii(pattern), Ascii(pattern)));
    }

    [Fact]
    public void A_pattern_longer_than_the_limit_matches_nothing()
    {
        var longest = Ascii("/" + new string('*', OscPattern.MaxLength - 1));
        Assert.True(OscPattern.IsValid(longest));
        Assert.True(OscPattern.Matches(longest, "/abc"u8));
        Assert.False(OscPattern.IsValid([.. longest, (byte)'*']));
        Assert.False(OscPattern.Matches([.. longest, (byte)'*'], "/abc"u8));
    }

    [Theory] // each takes years by plain backtracking
    [InlineData("/", "*a", "b")]
    [InlineData("/", "{a,aa}", "b")]
    [InlineData("", "//a", "/b")]
    [InlineData("/", "{a,a,a,a}*", "b")]
    public void Hostile_patterns_are_answered_in_bounded_time(string head, string repeated, string tail)
    {
        var pattern = head + string.Concat(Enumerable.Repeat(repeated, 500 / repeated.Length)) + tail;
        var address = string.Concat(Enumerable.Repeat("/aaaaaaaaaaaaaaa", 500));
        Assert.False(OscPattern.Matches(Ascii(pattern), Ascii(address)));
    }

    [Fact]
    public void Agrees_with_regular_expressions_on_random_patterns()
    {
        var genToken = Gen.OneOf("a", "b", "?", "*", "[ab]", "[!a]", "[a-b]", "{a,ba}", "{b,}", "/a", "/b", "/*", "//a");
        var genAddress = Gen.OneOf("a", "b", "ab", "/a", "/b", "/ba").Array[0, 8].Select(parts => "/a" + string.Concat(parts));
        Gen.Select(genToken.Array[0, 6].Select(tokens => "/" + string.Concat(tokens)), genAddress)
            .Where((pattern, _) => !pattern.Contains("///", StringComparison.Ordinal))
            .Sample((pattern, address) => OscPattern.Matches(Ascii(pattern), Ascii(address)) == Regex.IsMatch(address, AsRegex(pattern), RegexOptions.NonBacktracking), iter: 20_000);
    }

    private static string AsRegex(string pattern)
        => "^" + Regex.Replace(pattern, @"//|\[!|\?|\*|\{a,ba}|\{b,}", match => match.Value switch
        {
            "//" => "/(.*/)?",
            "[!" => "[^/",
            "?" => "[^/]",
            "*" => "[^/]*",
            "{a,ba}" => "(a|ba)",
            _ => "(b|)",
        }, RegexOptions.NonBacktracking) + "\\z";

    private static byte[] Ascii(string text) => Encoding.ASCII.GetBytes(text);
}
