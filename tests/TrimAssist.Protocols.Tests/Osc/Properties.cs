using CsCheck;
using TrimAssist.Fuzz.Targets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

public class Properties
{
    [Fact]
    public void A_message_survives_writing_and_reading()
        => GenOsc.Message.Sample(message => OscMessage.TryParse(message.Encode(), out var again, out _) && message.Equals(again));

    [Fact]
    public void A_packet_survives_writing_and_reading()
        => GenOsc.Packet.Sample(packet =>
        {
            var (messages, error) = Packets.Read(packet.Encode());
            Assert.Equal(OscError.None, error);
            Assert.Equal(packet.Flatten(), messages.Select(read => read.Message));
        });

    [Fact]
    public void Any_bytes_are_read_without_throwing()
        => Gen.Byte.Array[0, 200].Sample(bytes => OscTarget.Run(bytes));

    [Fact]
    public void A_damaged_packet_is_read_without_throwing()
        => Gen.Select(GenOsc.Packet, Gen.Select(Gen.Int[0, 10_000], Gen.Byte).Array[1, 8], Gen.Int[0, 3])
            .Sample((packet, damages, cut) =>
            {
                var bytes = packet.Encode();
                foreach (var (at, value) in damages)
                    bytes[at % bytes.Length] = value;
                OscTarget.Run(bytes.AsSpan(0, Math.Max(0, bytes.Length - (cut * 4))));
            });

    [Fact]
    public void A_damaged_message_is_judged_as_if_it_were_read_byte_by_byte()
        => Gen.Select(
                Gen.Frequency((1, GenOsc.Message), (1, GenOsc.OneNumber)),
                Gen.Select(Gen.Int[0, 10_000], Gen.Frequency((1, Gen.Byte), (3, Gen.OneOf((byte)0, (byte)'/', (byte)',', (byte)'f', (byte)'b', (byte)'[', (byte)4)))).Array[0, 3],
                Gen.Int[0, 2])
            .Sample(
                (message, damages, cut) =>
                {
                    var bytes = message.Encode();
                    foreach (var (at, value) in damages)
                        bytes[at % bytes.Length] = value;
                    bytes = bytes[..Math.Max(0, bytes.Length - (cut * 4))];
                    var plain = new PlainMessage(bytes);

                    Assert.Equal(plain.Error == OscError.None, OscMessageReader.TryOpen(bytes, out var read, out var error));
                    Assert.Equal(plain.Error, error);
                    if (error != OscError.None)
                        return;
                    Assert.Equal(plain.Address, read.Address);
                    Assert.Equal(plain.TypeTags.Length > 0, read.HasTypeTags);
                    Assert.Equal(plain.TypeTags.Skip(1), read.TypeTags.ToArray());
                },
                iter: 20_000);

    [Fact]
    public void Any_pattern_is_matched_without_throwing()
        => Gen.Select(Gen.String[Gen.Char["/*?[]{}!-,ab"], 0, 40], Gen.String[Gen.Char["/ab*"], 0, 40])
            .Sample((pattern, address) => OscPatternTarget.Run([.. System.Text.Encoding.ASCII.GetBytes(pattern), 0, .. System.Text.Encoding.ASCII.GetBytes(address)]));

    [Fact]
    public void Streams_give_the_same_packets_wherever_they_are_cut()
        => Gen.Select(Gen.Byte, Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0, 0, 4, 0xC0, 0xDB, 0xDC, 0xDD)).Array[0, 120])
            .Sample((cut, stream) => SlipTarget.Run([cut, .. stream]));
}
