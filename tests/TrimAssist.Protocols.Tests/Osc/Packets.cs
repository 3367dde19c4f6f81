using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>Reads whole packets into values, for comparison.</summary>
internal static class Packets
{
    public static (List<(OscMessage Message, OscTimeTag TimeTag)> Messages, OscError Error) Read(ReadOnlySpan<byte> bytes)
    {
        List<(OscMessage, OscTimeTag)> messages = [];
        var packet = new OscPacketReader(bytes);
        while (packet.TryReadMessage(out var message))
            messages.Add((OscMessage.From(message), message.TimeTag));

        Assert.False(packet.TryReadMessage(out _));
        return (messages, packet.Error);
    }

    /// <summary>A bundle of the given elements' bytes.</summary>
    public static byte[] Bundle(ulong timeTag, params byte[][] elements)
    {
        List<byte> bytes = [.. "#bundle\0"u8, .. BigEndian(timeTag, 8)];
        foreach (var element in elements)
            bytes.AddRange([.. BigEndian((ulong)element.Length, 4), .. element]);
        return [.. bytes];
    }

    private static IEnumerable<byte> BigEndian(ulong value, int size)
        => Enumerable.Range(1, size).Select(i => (byte)(value >> (8 * (size - i))));
}
