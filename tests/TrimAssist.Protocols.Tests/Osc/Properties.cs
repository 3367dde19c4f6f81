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
    public void Any_pattern_is_matched_without_throwing()
        => Gen.Select(Gen.String[Gen.Char["/*?[]{}!-,ab"], 0, 40], Gen.String[Gen.Char["/ab*"], 0, 40])
            .Sample((pattern, address) => OscPatternTarget.Run([.. System.Text.Encoding.ASCII.GetBytes(pattern), 0, .. System.Text.Encoding.ASCII.GetBytes(address)]));

    [Fact]
    public void Streams_give_the_same_packets_wherever_they_are_cut()
        => Gen.Select(Gen.Byte, Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0, 0, 4, 0xC0, 0xDB, 0xDC, 0xDD)).Array[0, 120])
            .Sample((cut, stream) => SlipTarget.Run([cut, .. stream]));
}
