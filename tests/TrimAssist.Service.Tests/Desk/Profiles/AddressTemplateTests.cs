using System.Text;
using CsCheck;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

public sealed class AddressTemplateTests
{
    private static readonly string[] Places = ["{input}", "{input:00}", "{input:000}", "{input-1}", "{input+10}", "{input-1:00}"];

    [Theory]
    [InlineData("/in/{input}/trim", 3, "/in/3/trim")]
    [InlineData("/in/{input:00}/trim", 3, "/in/03/trim")]
    [InlineData("/in/{input:00}/trim", 103, "/in/103/trim")]
    [InlineData("/in/{input-1:00}", 1, "/in/00")]
    [InlineData("/in/{input-1}", 12, "/in/11")]
    [InlineData("/in/{input+10}/x", 2, "/in/12/x")]
    [InlineData("/a/{input}/b/{input:000}", 7, "/a/7/b/007")]
    [InlineData("/pre/{socket:00}/gain", 1, "/pre/05/gain")]
    [InlineData("/pre/{socket}/gain/{input}", 1, "/pre/5/gain/1")]
    public void A_place_is_filled_as_it_is_written(string template, int input, string address)
    {
        var parsed = Parse(template);

        Assert.Equal(address, parsed.Format(input, "5"));
        Assert.True(parsed.TryMatch(Encoding.UTF8.GetBytes(address), out var found, out _));
        Assert.Equal(parsed.HasInput ? input : 0, found);
    }

    [Theory]
    [InlineData("/in/{input}", "/in/03")]
    [InlineData("/in/{input:00}", "/in/3")]
    [InlineData("/in/{input:00}", "/in/003")]
    [InlineData("/in/{input}", "/in/")]
    [InlineData("/in/{input}", "/in/0")]
    [InlineData("/in/{input}", "/in/-3")]
    [InlineData("/in/{input}", "/in/3x")]
    [InlineData("/in/{input}", "/in/3/x")]
    [InlineData("/in/{input}/x", "/in/3")]
    [InlineData("/in/{input}", "/in/99999999999999999999")]
    [InlineData("/a/{input}/b/{input}", "/a/1/b/2")]
    [InlineData("/pre/{socket}/gain", "/pre//gain")]
    [InlineData("/pre/{socket}", "/pre/a/b")]
    public void Another_address_is_not_taken_for_one_of_ours(string template, string address) =>
        Assert.False(Parse(template).TryMatch(Encoding.UTF8.GetBytes(address), out _, out _));

    [Fact]
    public void Whatever_a_template_writes_it_reads_again_as_the_same_input() =>
        Gen.Select(Gen.Int[0, Places.Length - 1], Gen.String[Gen.Char["ab/_."], 0, 6], Gen.Int[1, 1024]).Sample((place, tail, input) =>
        {
            var template = Parse($"/x/{Places[place]}/{tail}");
            return template.Format(input, null) is { } address
                && template.TryMatch(Encoding.UTF8.GetBytes(address), out var found, out _)
                && found == input;
        });

    [Fact]
    public void Two_inputs_never_share_an_address() =>
        Gen.Select(Gen.Int[0, Places.Length - 1], Gen.Int[1, 1024], Gen.Int[1, 1024]).Sample((place, one, other) =>
        {
            var template = Parse($"/x/{Places[place]}");
            return one == other || !string.Equals(template.Format(one, null), template.Format(other, null), StringComparison.Ordinal);
        });

    [Fact]
    public void Any_bytes_match_or_not_but_never_throw()
    {
        AddressTemplate[] templates = [Parse("/in/{input:00}/trim"), Parse("/{socket}/x/{input}"), Parse("/fixed")];
        Gen.Select(Gen.Int[0, 2], Gen.Byte.Array[0, 40]).Sample((which, bytes) =>
        {
            templates[which].TryMatch(bytes, out _, out _);
            return true;
        });
    }

    [Theory]
    [InlineData("a/b")]
    [InlineData("null-socket")]
    [InlineData("x y")]
    [InlineData("*")]
    [InlineData("")]
    public void A_sockets_name_that_cannot_stand_in_an_address_gives_none(string socket) =>
        Assert.Equal(socket is "null-socket" ? "/pre/null-socket" : null, Parse("/pre/{socket}").Format(1, socket));

    [Fact]
    public void An_unknown_socket_gives_no_address()
    {
        Assert.Null(Parse("/pre/{socket}").Format(1, null));
        Assert.Null(Parse("/pre/{socket:00}").Format(1, "A3"));
    }

    [Fact]
    public void An_input_alone_travels_as_a_number_and_otherwise_as_text()
    {
        Assert.Equal(new WireValue(WireType.Whole, 4), Argument("{input-1}").For(5, null));
        Assert.Equal(new WireValue(WireType.Text, 0, "05"), Argument("{input:00}").For(5, null));
        Assert.Equal(new WireValue(WireType.Text, 0, "/in/5/trim"), Argument("/in/{input}/trim").For(5, null));
        Assert.True(Argument("{value}").IsValue);
    }

    private static AddressTemplate Parse(string text)
    {
        var template = AddressTemplate.Parse(text, out var fault);
        Assert.Null(fault);
        return template!;
    }

    private static ArgumentTemplate Argument(string text)
    {
        var argument = ArgumentTemplate.Parse(text, out var fault);
        Assert.Null(fault);
        return argument!;
    }
}
