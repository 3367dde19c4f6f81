using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>Bytes that are not OSC are refused by name, and never beyond their end.</summary>
public class HostileBytes
{
    public static TheoryData<string, string, OscMessage> Messages => Samples.Messages;

    [Theory]
    [InlineData("", OscError.Empty)]
    [InlineData("2F", OscError.Unaligned)]
    [InlineData("2F 61 00 00 2C 00 00", OscError.Unaligned)]
    [InlineData("2F 61 62 63", OscError.NotTerminated)]
    [InlineData("2F 61 00 07", OscError.DirtyPadding)]
    [InlineData("61 62 63 00", OscError.BadAddress)]
    [InlineData("00 00 00 00", OscError.BadAddress)]
    [InlineData("2F 61 00 00 2C 69 69 69", OscError.NotTerminated)]
    [InlineData("2F 61 00 00 2C 00 69 00", OscError.DirtyPadding)]
    [InlineData("2F 61 00 00 2C 69 00 00", OscError.Truncated)]
    [InlineData("2F 61 00 00 2C 64 00 00 00 00 00 00", OscError.Truncated)]
    [InlineData("2F 61 00 00 2C 73 00 00", OscError.Truncated)]
    [InlineData("2F 61 00 00 2C 73 00 00 61 61 61 61", OscError.NotTerminated)]
    [InlineData("2F 61 00 00 2C 78 00 00", OscError.UnknownTypeTag)]
    [InlineData("2F 61 00 00 2C 2C 00 00", OscError.UnknownTypeTag)]
    [InlineData("2F 61 00 00 2C FF 00 00", OscError.UnknownTypeTag)]
    [InlineData("2F 61 00 00 2C 5B 00 00", OscError.UnbalancedArray)]
    [InlineData("2F 61 00 00 2C 5D 5B 00", OscError.UnbalancedArray)]
    [InlineData("2F 61 00 00 2C 62 00 00", OscError.Truncated)]
    [InlineData("2F 61 00 00 2C 62 00 00 00 00 00 01", OscError.BadBlobSize)]
    [InlineData("2F 61 00 00 2C 62 00 00 FF FF FF FF", OscError.BadBlobSize)]
    [InlineData("2F 61 00 00 2C 62 00 00 7F FF FF FF", OscError.BadBlobSize)]
    [InlineData("2F 61 00 00 2C 62 00 00 00 00 00 01 61 61 00 00", OscError.DirtyPadding)]
    [InlineData("2F 61 00 00 2C 00 00 00 00 00 00 00", OscError.TrailingBytes)]
    [InlineData("23 62 75 6E", OscError.Truncated)]
    [InlineData("23 62 75 6E 64 6C 65 00 00 00 00 00", OscError.Truncated)]
    [InlineData("23 62 75 6E 64 6C 65 64 00 00 00 00 00 00 00 01", OscError.BadBundleHead)]
    public void Each_fault_has_its_name(string hex, OscError expected)
        => Placements.ForEach(Hex.Bytes(hex), bytes =>
        {
            var (messages, error) = Packets.Read(bytes);
            Assert.Equal(expected, error);
            Assert.Empty(messages);
        });

    [Theory]
    [InlineData("00 00 00 00", OscError.Empty)]
    [InlineData("00 00 00 03 2F 61 00 00", OscError.Unaligned)]
    [InlineData("00 00 00 08 2F 61 00 00", OscError.ElementOverrun)]
    [InlineData("FF FF FF FC 2F 61 00 00", OscError.ElementOverrun)]
    [InlineData("7F FF FF FC 2F 61 00 00", OscError.ElementOverrun)]
    [InlineData("80 00 00 00 2F 61 00 00", OscError.ElementOverrun)]
    [InlineData("00 00 00 04 61 00 00 00", OscError.BadAddress)]
    [InlineData("00 00 00 10 23 62 75 6E 64 6C 65 00 00 00 00 00 00 00 00 01 FF FF FF FF", OscError.ElementOverrun)]
    public void A_faulty_element_ends_its_bundle_by_name_after_the_sound_ones(string element, OscError expected)
    {
        byte[] bytes = [.. Packets.Bundle(1, new OscMessage("/sound").Encode()), .. Hex.Bytes(element)];
        var (messages, error) = Packets.Read(bytes);
        Assert.Equal(expected, error);
        Assert.Equal("/sound", Assert.Single(messages).Message.Address);
    }

    [Theory]
    [MemberData(nameof(Messages))]
    public void A_message_cut_at_any_byte_is_refused_or_has_lost_all_its_arguments(string row, string hex, OscMessage expected)
    {
        Assert.NotEmpty(row);
        var whole = Hex.Bytes(hex);
        for (var length = 0; length < whole.Length; length++)
        {
            Placements.ForEach(whole.AsSpan(0, length), bytes =>
            {
                if (OscMessageReader.TryOpen(bytes, out var message, out var error))
                    Assert.False(message.HasTypeTags);
                else
                    Assert.NotEqual(OscError.None, error);
            });
        }

        Assert.True(OscMessage.TryParse(whole, out var uncut, out _));
        Assert.Equal(expected, uncut);
    }

    [Fact]
    public void A_bundle_cut_at_any_byte_gives_the_messages_before_the_cut_and_a_fault()
    {
        var whole = Hex.Bytes(Samples.TwoInBundle);
        for (var length = 0; length < whole.Length; length++)
        {
            Placements.ForEach(whole.AsSpan(0, length), bytes =>
            {
                var (messages, error) = Packets.Read(bytes);
                var ends = bytes.Length is 16 or 32;
                Assert.Equal(ends, error == OscError.None);
                Assert.Equal(Samples.MessagesOfTwoInBundle.Take(bytes.Length >= 32 && bytes.Length % 4 == 0 ? 1 : 0), messages.Select(read => read.Message));
            });
        }
    }

    [Theory]
    [InlineData(OscPacketReader.MaxBundleDepth, OscError.None)]
    [InlineData(OscPacketReader.MaxBundleDepth + 1, OscError.BundleTooDeep)]
    [InlineData(100, OscError.BundleTooDeep)]
    [InlineData(3_000, OscError.BundleTooDeep)]
    public void Bundles_inside_one_another_are_followed_to_the_limit(int depth, OscError expected)
    {
        var bytes = new OscMessage("/deep").Encode();
        for (var i = 0; i < depth; i++)
            bytes = Packets.Bundle(1, bytes);

        var (messages, error) = Packets.Read(bytes);
        Assert.Equal(expected, error);
        Assert.Equal(expected == OscError.None ? 1 : 0, messages.Count);
    }

    [Fact]
    public void The_first_fault_of_a_packet_is_kept()
    {
        var strange = Hex.Bytes("2F 61 00 00 2C 7A 00 00");
        var broken = Hex.Bytes("61 00 00 00");
        var (_, error) = Packets.Read(Packets.Bundle(1, strange, broken));
        Assert.Equal(OscError.UnknownTypeTag, error);
    }
}
