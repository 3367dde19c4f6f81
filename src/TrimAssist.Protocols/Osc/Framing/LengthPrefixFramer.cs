using System.Buffers.Binary;

namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>Writes OSC 1.0 stream framing: an int32 size, then the packet.</summary>
public static class LengthPrefixFramer
{
    /// <summary>Bytes a packet takes with its frame.</summary>
    public static int SizeOf(ReadOnlySpan<byte> packet) => sizeof(int) + packet.Length;

    /// <summary>Frames a packet; false when <paramref name="destination"/> is too small.</summary>
    public static bool TryWrite(ReadOnlySpan<byte> packet, Span<byte> destination, out int written)
    {
        written = 0;
        if (destination.Length - sizeof(int) < packet.Length)
            return false;

        BinaryPrimitives.WriteInt32BigEndian(destination, packet.Length);
        packet.CopyTo(destination[sizeof(int)..]);
        written = SizeOf(packet);
        return true;
    }
}
