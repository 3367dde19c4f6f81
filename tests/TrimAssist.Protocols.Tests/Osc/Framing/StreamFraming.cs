using CsCheck;
using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.Protocols.Tests.Osc.Framing;

/// <summary>OSC 1.0 "OSC Packets" (a size before each packet), OSC 1.1 (NIME 2009, section 4: SLIP with an END at both ends) and RFC 1055.</summary>
public class StreamFraming
{
    private const string Packet = "2F 61 00 00 2C 69 00 00 01 C0 DB 02";
    private const string LengthFramed = "00 00 00 0C 2F 61 00 00 2C 69 00 00 01 C0 DB 02"; // O17
    private const string SlipFramed = "C0 2F 61 00 00 2C 69 00 00 01 DB DC DB DD 02 C0"; // O18

    [Fact]
    public void A_packet_is_framed_as_the_standards_say()
    {
        Span<byte> buffer = stackalloc byte[32];
        Assert.True(LengthPrefixFramer.TryWrite(Hex.Bytes(Packet), buffer, out var written));
        Assert.Equal(LengthFramed, Hex.Print(buffer[..written]));
        Assert.True(SlipFramer.TryWrite(Hex.Bytes(Packet), buffer, out written));
        Assert.Equal(SlipFramed, Hex.Print(buffer[..written]));
    }

    [Fact]
    public void A_frame_that_does_not_fit_is_told()
    {
        Assert.False(LengthPrefixFramer.TryWrite(Hex.Bytes(Packet), new byte[15], out _));
        Assert.False(SlipFramer.TryWrite(Hex.Bytes(Packet), new byte[15], out _));
        Assert.True(LengthPrefixFramer.TryWrite(Hex.Bytes(Packet), new byte[16], out _));
        Assert.True(SlipFramer.TryWrite(Hex.Bytes(Packet), new byte[16], out _));
    }

    [Theory]
    [InlineData(LengthFramed)]
    [InlineData(SlipFramed)]
    public void Two_packets_are_found_at_any_two_cuts(string framed)
    {
        byte[] stream = [.. Hex.Bytes(framed), .. Hex.Bytes(framed)];
        for (var first = 0; first <= stream.Length; first++)
        {
            for (var second = first; second <= stream.Length; second++)
            {
                var deframer = Create(framed);
                var packets = Read(deframer, stream[..first], stream[first..second], stream[second..]);
                Assert.Equal([Packet, Packet], packets);
                Assert.Equal(FramingError.None, deframer.Error);
            }
        }
    }

    [Theory]
    [InlineData("7F FF FF FF", FramingError.TooLong)]
    [InlineData("00 01 00 01", FramingError.TooLong)]
    [InlineData("80 00 00 00", FramingError.NegativeSize)]
    [InlineData("FF FF FF FF", FramingError.NegativeSize)]
    public void A_size_beyond_the_limit_is_refused_by_name_and_loses_the_stream(string size, FramingError expected)
    {
        var deframer = new LengthPrefixDeframer();
        Assert.Empty(Read(deframer, Hex.Bytes(size), Hex.Bytes(LengthFramed)));
        Assert.Equal(expected, deframer.Error);
        Assert.True(deframer.IsLost);
    }

    [Fact]
    public void A_packet_of_the_limit_is_taken_and_one_more_byte_is_not()
    {
        Assert.Equal([Packet], Read(new LengthPrefixDeframer(12), Hex.Bytes(LengthFramed)));
        Assert.Empty(Read(new LengthPrefixDeframer(11), Hex.Bytes(LengthFramed)));
        Assert.Equal([Packet], Read(new SlipDeframer(12), Hex.Bytes(SlipFramed)));
        Assert.Empty(Read(new SlipDeframer(11), Hex.Bytes(SlipFramed)));
    }

    [Theory]
    [InlineData("C0 2F DB 01 2F C0", FramingError.BadEscape)]
    [InlineData("C0 2F DB C0", FramingError.BadEscape)]
    [InlineData("C0 2F 61 00 00 2C 69 00 00 01 02 03 04 05 C0", FramingError.TooLong)]
    public void A_faulty_frame_is_left_out_and_the_next_one_is_read(string faulty, FramingError expected)
    {
        var deframer = new SlipDeframer(12);
        Assert.Equal([Packet], Read(deframer, Hex.Bytes(faulty), Hex.Bytes(SlipFramed)));
        Assert.Equal(expected, deframer.Error);
        Assert.Equal(1, deframer.Refused);
        Assert.False(deframer.IsLost);
    }

    [Fact] // RFC 1055: line noise before the first END makes a frame of its own
    public void Empty_frames_are_passed_over()
        => Assert.Equal([Packet], Read(new SlipDeframer(), Hex.Bytes("C0 C0 C0"), Hex.Bytes(SlipFramed)));

    [Fact]
    public void Random_packets_survive_framing_at_any_cut()
        => Gen.Select(Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0xC0, 0xDB)).Array[1, 60].Array[1, 5], Gen.Int[1, 40], Gen.Bool)
            .Sample((packets, step, slip) =>
            {
                List<byte> stream = [];
                var buffer = new byte[256];
                foreach (var packet in packets)
                {
                    Assert.True(slip ? SlipFramer.TryWrite(packet, buffer, out var written) : LengthPrefixFramer.TryWrite(packet, buffer, out written));
                    stream.AddRange(buffer[..written]);
                }

                IOscDeframer deframer = slip ? new SlipDeframer() : new LengthPrefixDeframer();
                Assert.Equal([.. packets.Select(packet => Hex.Print(packet))], Read(deframer, [.. stream.Chunk(step)]));
            });

    private static IOscDeframer Create(string framed) => string.Equals(framed, SlipFramed, StringComparison.Ordinal) ? new SlipDeframer() : new LengthPrefixDeframer();

    private static List<string> Read(IOscDeframer deframer, params byte[][] chunks)
    {
        List<string> packets = [];
        foreach (var chunk in chunks)
        {
            ReadOnlySpan<byte> input = chunk;
            while (deframer.TryRead(ref input, out var packet))
                packets.Add(Hex.Print(packet));
            Assert.True(input.IsEmpty);
        }

        return packets;
    }
}
