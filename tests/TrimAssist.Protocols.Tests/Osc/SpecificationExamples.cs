using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>OSC 1.0 (26 March 2002) with its examples page (29 March 2002), and the types of OSC 1.1 (Freed and Schmeder, NIME 2009).</summary>
public class SpecificationExamples
{
    public static TheoryData<string, string, OscMessage> Messages => Samples.Messages;

    [Theory]
    [MemberData(nameof(Messages))]
    public void A_printed_message_reads_as_its_values(string row, string hex, OscMessage expected)
    {
        Assert.NotEmpty(row);
        Placements.ForEach(Hex.Bytes(hex), bytes =>
        {
            Assert.True(OscMessage.TryParse(bytes, out var message, out var error), error.ToString());
            Assert.Equal(expected, message);
            Assert.Equal((expected, OscTimeTag.Immediate), Assert.Single(Packets.Read(bytes).Messages));
        });
    }

    [Theory]
    [MemberData(nameof(Messages))]
    public void Values_are_written_as_the_printed_message(string row, string hex, OscMessage message)
    {
        Assert.NotEmpty(row);
        Assert.Equal(hex, Hex.Print(message.Encode()));
    }

    [Fact] // O7, layout of OSC 1.0 "OSC Bundles"
    public void A_bundle_reads_as_its_messages_in_order()
        => Placements.ForEach(Hex.Bytes(Samples.TwoInBundle), bytes =>
        {
            var (messages, error) = Packets.Read(bytes);
            Assert.Equal(OscError.None, error);
            Assert.Equal(Samples.MessagesOfTwoInBundle, messages.Select(read => read.Message));
            Assert.All(messages, read => Assert.True(read.TimeTag.IsImmediate));
        });

    [Fact] // O7
    public void A_bundle_is_written_as_the_table_says()
    {
        Span<byte> buffer = stackalloc byte[64];
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        foreach (var message in Samples.MessagesOfTwoInBundle)
            message.WriteTo(ref writer);
        writer.EndBundle();

        Assert.True(writer.TryFinish(out var length));
        Assert.Equal(Samples.TwoInBundle, Hex.Print(buffer[..length]));
    }

    [Fact] // O6
    public void A_bundle_of_no_elements_is_legal()
    {
        var bytes = Packets.Bundle(1);
        Assert.Equal(16, bytes.Length);
        var (messages, error) = Packets.Read(bytes);
        Assert.Empty(messages);
        Assert.Equal(OscError.None, error);
    }

    [Theory] // O4, "OSC Type Tag String" examples
    [InlineData("f", 4)]
    [InlineData("iisfff", 28)]
    [InlineData("", 0)]
    [InlineData("ibb", 20)]
    public void Type_tags_stand_after_a_comma_and_promise_the_bytes(string tags, int argumentBytes)
    {
        var arguments = tags.Select(tag => tag switch
        {
            'i' => OscArgument.Of(7),
            'f' => OscArgument.Of(7f),
            's' => OscArgument.Of("seven"),
            _ => OscArgument.OfBlob([7]),
        }).ToArray();
        var bytes = new OscMessage("/a", arguments).Encode();

        Assert.Equal((byte)',', bytes[4]);
        Assert.Equal(tags, System.Text.Encoding.ASCII.GetString(bytes, 5, tags.Length));
        Assert.Equal(4 + ((tags.Length + 1) / 4 * 4) + 4 + argumentBytes, bytes.Length);
    }

    [Theory] // O13: four types required in 1.0, five more in 1.1
    [InlineData("i", 4)]
    [InlineData("f", 4)]
    [InlineData("s", 4)]
    [InlineData("b", 4)]
    [InlineData("T", 0)]
    [InlineData("F", 0)]
    [InlineData("N", 0)]
    [InlineData("I", 0)]
    [InlineData("t", 8)]
    public void Every_required_type_takes_its_bytes(string tag, int size)
    {
        byte[] bytes = [.. "/a\0\0,"u8, (byte)tag[0], 0, 0, .. new byte[size]];
        Assert.True(OscMessageReader.TryOpen(bytes, out var message, out _));
        Assert.True(message.TrySkip());
        Assert.Equal(OscTypeTag.None, message.NextTag);
    }

    [Fact] // O15
    public void A_message_with_an_unknown_tag_is_discarded_whole_and_its_neighbours_are_kept()
    {
        var strange = Hex.Bytes("2F 61 00 00 2C 69 7A 00 00 00 00 01 00 00 00 02");
        var packet = new OscPacketReader(Packets.Bundle(1, new OscMessage("/first").Encode(), strange, new OscMessage("/last").Encode()));

        Assert.True(packet.TryReadMessage(out var message));
        Assert.Equal("/first"u8, message.Address);
        Assert.True(packet.TryReadMessage(out message));
        Assert.Equal("/last"u8, message.Address);
        Assert.False(packet.TryReadMessage(out _));
        Assert.Equal(OscError.UnknownTypeTag, packet.Error);
        Assert.Equal(1, packet.DiscardedMessages);
    }

    [Fact] // O15
    public void A_message_without_type_tags_is_read_with_no_arguments()
    {
        Assert.True(OscMessageReader.TryOpen(Hex.Bytes("2F 61 00 00 00 00 00 07"), out var message, out _));
        Assert.False(message.HasTypeTags);
        Assert.Equal("/a"u8, message.Address);
        Assert.False(message.TryReadNumber(out _));
        Assert.Equal(OscTypeTag.None, message.NextTag);
    }

    [Fact] // O20: the example of the bundle with three patterns, where 12 orders are legal
    public void Dispatching_in_packet_order_gives_one_of_the_twelve_legal_orders()
    {
        string[] methods = ["/first/this/one", "/second/1", "/second/2", "/third/a", "/third/b", "/third/c"];
        string[] patterns = ["/first/this/one", "/second/[1-2]", "/third/*"];
        var packet = new OscPacketReader(Packets.Bundle(1, [.. patterns.Select(pattern => new OscMessage(pattern).Encode())]));
        List<string> invoked = [];
        while (packet.TryReadMessage(out var message))
        {
            foreach (var method in methods)
            {
                if (OscPattern.Matches(message.Address, System.Text.Encoding.ASCII.GetBytes(method)))
                    invoked.Add(method);
            }
        }

        string[][] seconds = [["/second/1", "/second/2"], ["/second/2", "/second/1"]];
        string[] thirds = ["abc", "acb", "bac", "bca", "cab", "cba"];
        var legal = (from second in seconds
                     from third in thirds
                     select string.Join(' ', ["/first/this/one", .. second, .. third.Select(letter => $"/third/{letter}")])).ToArray();
        Assert.Equal(12, legal.Length);
        Assert.Contains(string.Join(' ', invoked), legal, StringComparer.Ordinal);
    }
}
