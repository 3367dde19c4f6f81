using System.Buffers.Binary;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Writes packets as a capture that other programs read: the classic pcap format (magic a1b2c3d4), link type 101, raw IPv4.</summary>
internal static class CaptureFile
{
    private const int IpHead = 20;
    private const int UdpHead = 8;
    private const int TcpHead = 20;

    /// <summary>Writes one frame for each payload; the payloads of a stream are each a connection of their own.</summary>
    public static void Write(string file, IEnumerable<(bool IsStream, ushort Port, byte[] Payload)> payloads)
    {
        using var stream = File.Create(file);
        Span<byte> head = stackalloc byte[24];
        BinaryPrimitives.WriteUInt32LittleEndian(head, 0xA1B2C3D4);
        BinaryPrimitives.WriteUInt16LittleEndian(head[4..], 2);
        BinaryPrimitives.WriteUInt16LittleEndian(head[6..], 4);
        BinaryPrimitives.WriteUInt32LittleEndian(head[16..], ushort.MaxValue);
        BinaryPrimitives.WriteUInt32LittleEndian(head[20..], 101);
        stream.Write(head);
        Span<byte> record = stackalloc byte[16];
        ushort from = 40_000;
        foreach (var (isStream, port, payload) in payloads)
        {
            var frame = Frame(isStream, from++, port, payload);
            record.Clear();
            BinaryPrimitives.WriteInt32LittleEndian(record[8..], frame.Length);
            BinaryPrimitives.WriteInt32LittleEndian(record[12..], frame.Length);
            stream.Write(record);
            stream.Write(frame);
        }
    }

    // Checksums of 0: not computed.
    private static byte[] Frame(bool isStream, ushort from, ushort to, byte[] payload)
    {
        var transport = isStream ? TcpHead : UdpHead;
        var frame = new byte[IpHead + transport + payload.Length];
        frame[0] = 0x45;
        BinaryPrimitives.WriteUInt16BigEndian(frame.AsSpan(2), (ushort)frame.Length);
        (frame[8], frame[9]) = (64, isStream ? (byte)6 : (byte)17);
        (frame[12], frame[15], frame[16], frame[19]) = (127, 1, 127, 1);
        var head = frame.AsSpan(IpHead);
        BinaryPrimitives.WriteUInt16BigEndian(head, from);
        BinaryPrimitives.WriteUInt16BigEndian(head[2..], to);
        if (isStream)
        {
            BinaryPrimitives.WriteUInt32BigEndian(head[4..], 1);
            (head[12], head[13]) = (0x50, 0x18);
            BinaryPrimitives.WriteUInt16BigEndian(head[14..], ushort.MaxValue);
        }
        else
        {
            BinaryPrimitives.WriteUInt16BigEndian(head[4..], (ushort)(UdpHead + payload.Length));
        }

        payload.CopyTo(head[transport..]);
        return frame;
    }
}
