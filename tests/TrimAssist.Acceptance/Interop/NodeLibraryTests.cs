using System.Text.Json;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Three OSC implementations that share no line with ours (npm <c>osc-min</c>, <c>osc</c>, <c>node-osc</c>) read what we write, and we what they write.</summary>
public sealed class NodeLibraryTests
{
    [Theory]
    [InlineData("osc-min", true)]
    [InlineData("osc", true)]
    [InlineData("node-osc", false)]
    public async Task What_we_write_is_read_alike(string library, bool isFull)
    {
        NodePeer.Need();
        var packets = Sample.Packets(isFull ? [.. Sample.Plain, .. Sample.Wide] : Sample.Plain).ToList();
        var answers = await NodePeer.AskAsync(library, [.. packets.Select(one => $"read {Convert.ToHexString(one.Packet)}")]);
        Assert.Equal(packets.Select(one => string.Join(" | ", one.Holds.Select(message => isFull ? Sample.Line(message) : Sample.Untyped(message)))), answers);
    }

    [Theory]
    [InlineData("osc-min", true)]
    [InlineData("osc", true)]
    [InlineData("node-osc", false)]
    public async Task What_they_write_is_what_we_write_byte_for_byte(string library, bool isFull)
    {
        NodePeer.Need();
        IReadOnlyList<OscMessage> messages = isFull ? [.. Sample.Plain, .. Sample.Wide] : Sample.Plain;
        var answers = await NodePeer.AskAsync(library, [.. messages.Select(message => $"write {Described(message)}")]);
        Assert.Equal(messages.Select(message => Convert.ToHexStringLower(message.Encode())), answers);
    }

    private static string Described(OscMessage message) => JsonSerializer.Serialize(new
    {
        address = message.Address,
        args = message.Arguments.Select(one => Sample.Text(one).Split(':')).Select(word => word.Length == 1 ? new { type = word[0], value = (string?)null } : new { type = word[0], value = (string?)word[1] }),
    });
}
