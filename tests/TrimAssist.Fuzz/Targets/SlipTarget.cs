using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.Fuzz.Targets;

/// <summary>Any bytes as framed streams, cut in two at a place the first byte chooses: never throws, and the cut changes nothing.</summary>
public static class SlipTarget
{
    private const int Limit = 1_024;

    public static void Run(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty)
            return;

        var stream = bytes[1..];
        var cut = Math.Min(bytes[0], stream.Length);
        Compare(new SlipDeframer(Limit), new SlipDeframer(Limit), stream, cut);
        Compare(new LengthPrefixDeframer(Limit), new LengthPrefixDeframer(Limit), stream, cut);
        FramesAndBack(stream);
    }

    private static void Compare(IOscDeframer whole, IOscDeframer halves, ReadOnlySpan<byte> stream, int cut)
    {
        var expected = Read(whole, stream);
        var actual = Read(halves, stream[..cut]);
        actual.AddRange(Read(halves, stream[cut..]));
        Expect.That(whole.Error == halves.Error && whole.IsLost == halves.IsLost, "the cut changed the fault");
        Expect.That(expected.Count == actual.Count, "the cut changed the number of packets");
        for (var i = 0; i < expected.Count; i++)
            Expect.That(expected[i].AsSpan().SequenceEqual(actual[i]) && expected[i].Length is > 0 and <= Limit, "the cut changed a packet");
    }

    private static void FramesAndBack(ReadOnlySpan<byte> packet)
    {
        if (packet.Length is 0 or > Limit)
            return;

        var framed = new byte[SlipFramer.SizeOf(packet)];
        Expect.That(SlipFramer.TryWrite(packet, framed, out var written) && written == framed.Length, "does not fit its own size");
        var back = Read(new SlipDeframer(Limit), framed);
        Expect.That(back.Count == 1 && packet.SequenceEqual(back[0]), "framing changed the packet");
    }

    private static List<byte[]> Read(IOscDeframer deframer, ReadOnlySpan<byte> input)
    {
        List<byte[]> packets = [];
        while (deframer.TryRead(ref input, out var packet))
            packets.Add(packet.ToArray());
        return packets;
    }
}
