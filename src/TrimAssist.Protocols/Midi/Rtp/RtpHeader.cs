using System.Buffers.Binary;

namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>The fixed header of an RTP packet (RFC 3550, section 5.1). In RTP-MIDI the marker says that the command list is not empty.</summary>
/// <param name="Marker">The marker bit.</param>
/// <param name="PayloadType">0 to 127.</param>
/// <param name="SequenceNumber">Grows by one a packet, and wraps.</param>
/// <param name="Timestamp">Media time of the first command, in the rate both ends agreed on.</param>
/// <param name="Source">The sender's SSRC.</param>
public readonly record struct RtpHeader(bool Marker, byte PayloadType, ushort SequenceNumber, uint Timestamp, uint Source)
{
    /// <summary>Octets of the header without contributing sources.</summary>
    public const int Size = 12;

    private const int Version = 2;

    /// <summary>Writes the header; false when it does not fit.</summary>
    public bool TryWrite(Span<byte> destination)
    {
        if (destination.Length < Size)
            return false;

        destination[0] = Version << 6;
        destination[1] = (byte)((Marker ? 0x80 : 0) | (PayloadType & 0x7F));
        BinaryPrimitives.WriteUInt16BigEndian(destination[2..], SequenceNumber);
        BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Timestamp);
        BinaryPrimitives.WriteUInt32BigEndian(destination[8..], Source);
        return true;
    }

    /// <summary>Reads the header and finds the payload behind contributing sources and extension and before padding.</summary>
    public static RtpMidiError Read(ReadOnlySpan<byte> packet, out RtpHeader header, out ReadOnlySpan<byte> payload)
    {
        header = default;
        payload = default;
        if (packet.Length < Size)
            return RtpMidiError.Truncated;
        if (packet[0] >> 6 != Version)
            return RtpMidiError.BadVersion;

        var start = Size + ((packet[0] & 0x0F) * sizeof(uint));
        if ((packet[0] & 0x10) != 0)
        {
            if (packet.Length < start + sizeof(uint))
                return RtpMidiError.Truncated;
            start += sizeof(uint) + (BinaryPrimitives.ReadUInt16BigEndian(packet[(start + 2)..]) * sizeof(uint));
        }

        if (packet.Length < start)
            return RtpMidiError.Truncated;

        var body = packet[start..];
        if ((packet[0] & 0x20) != 0)
        {
            // The last octet of the padding says how many octets of padding there are.
            if (body.IsEmpty || body[^1] == 0 || body[^1] > body.Length)
                return RtpMidiError.BadPadding;
            body = body[..^body[^1]];
        }

        payload = body;
        header = new(
            (packet[1] & 0x80) != 0,
            (byte)(packet[1] & 0x7F),
            BinaryPrimitives.ReadUInt16BigEndian(packet[2..]),
            BinaryPrimitives.ReadUInt32BigEndian(packet[4..]),
            BinaryPrimitives.ReadUInt32BigEndian(packet[8..]));
        return RtpMidiError.None;
    }
}
