using TrimAssist.Protocols.Midi;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Fuzz.Targets;

/// <summary>
/// Any bytes as datagrams to a session that waits to be invited, each after a byte of path and length: never throws, says nothing but
/// whole messages, and stays able to accept an invitation.
/// </summary>
public static class RtpMidiSessionTarget
{
    private const int LongestDatagram = 64;

    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var ear = new Ear();
        var session = new RtpMidiSession(1, 2, "fuzz", invites: false, new Silence(), ear);
        var now = 0.0;
        while (!bytes.IsEmpty)
        {
            var (path, length) = ((SessionPath)(bytes[0] & 1), Math.Min(bytes[0] >> 1 & (LongestDatagram - 1), bytes.Length - 1));
            session.Take(path, bytes.Slice(1, length), now);
            session.Tick(now += 0.5);
            bytes = bytes[(1 + length)..];
        }

        session.Tick(now += 2 * RtpMidiSession.GoneAfterS);
        var opened = ear.Opened;
        foreach (var path in new[] { SessionPath.Control, SessionPath.Data })
            session.Take(path, Invitation(), now);
        Expect.That(session.IsOpen && ear.Opened == opened + 1, "an invitation was not accepted");
    }

    private static byte[] Invitation()
    {
        var packet = new byte[SessionPacket.MaxSize];
        return packet[..new SessionPacket(SessionCommand.Invitation, 7, 8).Write(packet, "partner")];
    }

    private sealed class Silence : ISessionWire
    {
        public void Send(SessionPath path, ReadOnlySpan<byte> packet)
        {
        }

        public void Answer(SessionPath path, ReadOnlySpan<byte> packet)
        {
        }

        public void Remember(SessionPath path)
        {
        }

        public void Adopt()
        {
        }

        public void Return()
        {
        }
    }

    private sealed class Ear : ISessionListener
    {
        public int Opened { get; private set; }

        public void OnOpened() => Opened++;

        public void OnMessage(ReadOnlySpan<byte> message) => Expect.That(message.Length > 0 && MidiStatus.IsStatus(message[0]), "heard what is no message");

        public void OnRestored(ReadOnlySpan<byte> message) => Expect.That(message.Length == 3 && MidiStatus.IsStatus(message[0]), "restored what is no message");

        public void OnLost(int packets) => Expect.That(packets > 0, "nothing was lost");
    }
}
