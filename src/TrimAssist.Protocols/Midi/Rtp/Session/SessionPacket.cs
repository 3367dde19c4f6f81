using System.Buffers.Binary;
using System.Text;

namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>
/// A packet of the session protocol that RTP-MIDI is commonly used with, on two UDP ports side by side (layout as in public open
/// implementations): FF FF, two letters, then the fields of the command. Fields that a command does not have are 0.
/// </summary>
/// <param name="Command">The command.</param>
/// <param name="Source">The sender's SSRC.</param>
/// <param name="Token">The number by which the inviting side knows its invitation again.</param>
/// <param name="Count">Which of the three clock words this is, from 0.</param>
/// <param name="First">The first clock time, in units of 100 µs.</param>
/// <param name="Second">The second.</param>
/// <param name="Third">The third.</param>
/// <param name="SequenceNumber">The last sequence number that came.</param>
public readonly record struct SessionPacket(
    SessionCommand Command, uint Source, uint Token = 0, byte Count = 0, ulong First = 0, ulong Second = 0, ulong Third = 0, ushort SequenceNumber = 0)
{
    /// <summary>The longest packet written: an invitation with the longest name.</summary>
    public const int MaxSize = PlainSize + LongestName + 1;

    /// <summary>The longest name written, in octets of UTF-8.</summary>
    public const int LongestName = 64;

    private const ushort Signature = 0xFFFF;
    private const uint Version = 2;
    private const int PlainSize = 16;
    private const int ClockSize = 36;
    private const int FeedbackSize = 12;

    /// <summary>Whether a datagram belongs to the session protocol: RTP version 3, as it were, does not exist.</summary>
    public static bool Is(ReadOnlySpan<byte> packet) => packet.Length >= 4 && BinaryPrimitives.ReadUInt16BigEndian(packet) == Signature;

    /// <summary>Reads a packet; <see langword="false"/> for what is none, is cut short, or speaks another version. Names are passed over.</summary>
    public static bool TryRead(ReadOnlySpan<byte> packet, out SessionPacket read)
    {
        read = default;
        if (!Is(packet))
            return false;
        var command = (SessionCommand)BinaryPrimitives.ReadUInt16BigEndian(packet[2..]);
        switch (command)
        {
            case SessionCommand.Invitation or SessionCommand.Accepted or SessionCommand.Refused or SessionCommand.End when packet.Length >= PlainSize && Word(packet, 4) == Version:
                read = new(command, Word(packet, 12), Token: Word(packet, 8));
                return true;
            case SessionCommand.Clock when packet.Length >= ClockSize && packet[8] <= 2:
                read = new(command, Word(packet, 4), 0, packet[8], Time(packet, 12), Time(packet, 20), Time(packet, 28));
                return true;
            case SessionCommand.Feedback when packet.Length >= FeedbackSize:
                read = new(command, Word(packet, 4), SequenceNumber: BinaryPrimitives.ReadUInt16BigEndian(packet[8..]));
                return true;
            default:
                return false;
        }
    }

    /// <summary>Writes the packet.</summary>
    /// <param name="destination">At least <see cref="MaxSize"/> octets.</param>
    /// <param name="name">Who is speaking, in invitations and their acceptance; cut at <see cref="LongestName"/> octets.</param>
    /// <returns>How many octets were written.</returns>
    /// <exception cref="ArgumentException">There is too little room.</exception>
    public int Write(Span<byte> destination, string name)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(destination.Length, MaxSize, nameof(destination));
        BinaryPrimitives.WriteUInt16BigEndian(destination, Signature);
        BinaryPrimitives.WriteUInt16BigEndian(destination[2..], (ushort)Command);
        switch (Command)
        {
            case SessionCommand.Clock:
                BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Source);
                BinaryPrimitives.WriteUInt32BigEndian(destination[8..], (uint)Count << 24);
                BinaryPrimitives.WriteUInt64BigEndian(destination[12..], First);
                BinaryPrimitives.WriteUInt64BigEndian(destination[20..], Second);
                BinaryPrimitives.WriteUInt64BigEndian(destination[28..], Third);
                return ClockSize;
            case SessionCommand.Feedback:
                BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Source);
                BinaryPrimitives.WriteUInt32BigEndian(destination[8..], (uint)SequenceNumber << 16);
                return FeedbackSize;
            default:
                BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Version);
                BinaryPrimitives.WriteUInt32BigEndian(destination[8..], Token);
                BinaryPrimitives.WriteUInt32BigEndian(destination[12..], Source);
                return PlainSize + (Command is SessionCommand.Invitation or SessionCommand.Accepted ? WriteName(destination[PlainSize..], name) : 0);
        }
    }

    private static int WriteName(Span<byte> destination, string name)
    {
        Encoder encoder = Encoding.UTF8.GetEncoder();
        encoder.Convert(name, destination[..LongestName], flush: true, out _, out var length, out _);
        destination[length] = 0;
        return length + 1;
    }

    private static uint Word(ReadOnlySpan<byte> packet, int at) => BinaryPrimitives.ReadUInt32BigEndian(packet[at..]);

    private static ulong Time(ReadOnlySpan<byte> packet, int at) => BinaryPrimitives.ReadUInt64BigEndian(packet[at..]);
}
