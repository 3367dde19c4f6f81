using CsCheck;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Protocols.Tests.Midi.Rtp.Session;

/// <summary>The layout of the session protocol, by hand from its public descriptions.</summary>
public class SessionPackets
{
    private static readonly SessionCommand[] Commands = [SessionCommand.Invitation, SessionCommand.Accepted, SessionCommand.Refused, SessionCommand.End];

    [Theory]
    [InlineData(SessionCommand.Invitation, "FF FF 49 4E 00 00 00 02 01 02 03 04 0A 0B 0C 0D 6D 65 00")]
    [InlineData(SessionCommand.Accepted, "FF FF 4F 4B 00 00 00 02 01 02 03 04 0A 0B 0C 0D 6D 65 00")]
    [InlineData(SessionCommand.Refused, "FF FF 4E 4F 00 00 00 02 01 02 03 04 0A 0B 0C 0D")]
    [InlineData(SessionCommand.End, "FF FF 42 59 00 00 00 02 01 02 03 04 0A 0B 0C 0D")]
    public void Invitations_and_what_follows_them_have_their_octets(SessionCommand command, string octets)
    {
        var packet = new SessionPacket(command, 0x0A0B0C0D, 0x01020304);
        Assert.Equal(octets, Written(packet));
        Assert.True(SessionPacket.TryRead(Hex.Bytes(octets), out var read));
        Assert.Equal(packet, read);
    }

    [Fact]
    public void A_clock_has_its_octets()
        => Assert.Equal(
            "FF FF 43 4B 0A 0B 0C 0D 01 00 00 00 00 00 00 00 00 00 00 01 00 00 00 00 00 00 01 00 00 00 00 00 00 00 00 00",
            Written(new(SessionCommand.Clock, 0x0A0B0C0D, Count: 1, First: 1, Second: 256)));

    [Fact]
    public void Feedback_has_its_octets()
        => Assert.Equal("FF FF 52 53 0A 0B 0C 0D 12 34 00 00", Written(new(SessionCommand.Feedback, 0x0A0B0C0D, SequenceNumber: 0x1234)));

    [Theory]
    [InlineData("FF FF 49 4E 00 00 00 03 01 02 03 04 0A 0B 0C 0D")] // another version
    [InlineData("FF FF 49 4E 00 00 00 02 01 02 03 04 0A 0B 0C")] // cut short
    [InlineData("FF FF 43 4B 0A 0B 0C 0D 03 00 00 00 00 00 00 00 00 00 00 01 00 00 00 00 00 00 01 00 00 00 00 00 00 00 00 00")] // a fourth clock word
    [InlineData("FF FF 52 4C 0A 0B 0C 0D 12 34 00 00")] // a command of others
    [InlineData("FF FF")]
    [InlineData("80 61 00 01 00 00 00 00 0A 0B 0C 0D 03 B0 07 64")]
    public void What_is_none_is_refused(string octets) => Assert.False(SessionPacket.TryRead(Hex.Bytes(octets), out _));

    [Fact]
    public void A_name_too_long_is_cut_between_characters()
    {
        Span<byte> bytes = stackalloc byte[SessionPacket.MaxSize];
        var length = new SessionPacket(SessionCommand.Invitation, 1, 2).Write(bytes, new string('é', 60));
        Assert.Equal(16 + SessionPacket.LongestName + 1, length);
        Assert.Equal(0, bytes[length - 1]);
        Assert.EndsWith("é\0", System.Text.Encoding.UTF8.GetString(bytes[..length]), StringComparison.Ordinal);
    }

    [Fact]
    public void Any_packet_survives_being_written()
        => Gen.Select(
            Gen.Int[0, 3].Select(index => Commands[index]),
            Gen.UInt,
            Gen.UInt).Sample((command, source, token) =>
            {
                var packet = new SessionPacket(command, source, token);
                Span<byte> bytes = stackalloc byte[SessionPacket.MaxSize];
                return SessionPacket.TryRead(bytes[..packet.Write(bytes, "n")], out var read) && read == packet;
            });

    private static string Written(SessionPacket packet)
    {
        Span<byte> bytes = stackalloc byte[SessionPacket.MaxSize];
        return Hex.Print(bytes[..packet.Write(bytes, "me")]);
    }
}
