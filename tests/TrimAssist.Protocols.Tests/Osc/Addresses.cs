using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>OSC 1.0, "OSC Address Spaces and OSC Addresses".</summary>
public class Addresses
{
    [Fact] // O16
    public void A_name_may_hold_all_printable_ASCII_but_the_nine_of_the_table()
    {
        var legal = Enumerable.Range(0, 256).Where(value => OscAddress.IsValidName([(byte)value])).Select(value => (char)value);
        Assert.Equal(Enumerable.Range(0x20, 0x7F - 0x20).Select(value => (char)value).Except(" #*,/?[]{}"), legal);
    }

    [Theory]
    [InlineData("/a", true)]
    [InlineData("/a/b.c-d/1", true)]
    [InlineData("", false)]
    [InlineData("/", false)]
    [InlineData("a/b", false)]
    [InlineData("/a/", false)]
    [InlineData("/a//b", false)]
    [InlineData("/a b", false)]
    [InlineData("/a/é", false)]
    public void An_address_is_a_slash_before_each_name(string address, bool valid)
        => Assert.Equal(valid, OscAddress.IsValid(Encoding.UTF8.GetBytes(address)));

    [Theory]
    [InlineData("/a/b", false)]
    [InlineData("/a/?", true)]
    [InlineData("/a*", true)]
    [InlineData("/[a]", true)]
    [InlineData("/{a}", true)]
    [InlineData("//a", true)]
    public void A_pattern_is_told_from_an_address(string address, bool pattern)
        => Assert.Equal(pattern, OscAddress.IsPattern(Encoding.UTF8.GetBytes(address)));
}
