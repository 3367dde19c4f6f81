using TrimAssist.Acceptance.Running;
using TrimAssist.Protocols.Midi;
using TrimAssist.Protocols.Midi.Rtp.Session;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Wireshark's dissectors of the session protocol and of RTP-MIDI read a whole session of ours: invitation, clocks, messages, feedback, end.</summary>
public sealed class TsharkMidiTests : IDisposable
{
    private const ushort Control = 5004;
    private const ushort Data = 5005;
    private const uint Own = 0x11223344;
    private static readonly string[] SessionFields = ["applemidi.command", "applemidi.protocol_version", "applemidi.initiator_token", "applemidi.sender_ssrc", "applemidi.name", "applemidi.count", "applemidi.rtp_sequence_number"];
    private static readonly string[] MidiFields =
        ["rtp.p_type", "rtp.ssrc", "rtpmidi.channel_status", "rtpmidi.channel", "rtpmidi.note", "rtpmidi.velocity", "rtpmidi.controller", "rtpmidi.controller_value", "rtpmidi.program", "rtpmidi.pitch_bend", "rtpmidi.manufacturer_short", "_ws.malformed"];

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-capture-");

    [Fact]
    public async Task A_session_is_dissected_as_it_was_meant()
    {
        Assert.SkipUnless(TheProgram.IsInstalled("tshark"), "tshark is not installed");
        var wire = new Tape();
        var session = new RtpMidiSession(Own, token: 0x01020304, "TrimAssist", invites: true, wire, new Deaf());
        session.Tick(1);
        session.Take(SessionPath.Control, [0xFF, 0xFF, (byte)'O', (byte)'K', 0, 0, 0, 2, 1, 2, 3, 4, 0x55, 0x66, 0x77, 0x88, 0], 1.1);
        session.Take(SessionPath.Data, [0xFF, 0xFF, (byte)'O', (byte)'K', 0, 0, 0, 2, 1, 2, 3, 4, 0x55, 0x66, 0x77, 0x88, 0], 1.2);
        Assert.True(session.TrySend(Bytes(MidiMessage.NoteOn(1, 60, 100)), 1.3));
        Assert.True(session.TrySend(Bytes(MidiMessage.ControlChange(2, 7, 1), MidiMessage.ControlChange(2, 39, 2), MidiMessage.ProgramChange(16, 5), MidiMessage.PitchBend(1, 8192), MidiMessage.NoteOff(3, 61, 0)), 1.4));
        Assert.True(session.TrySend([0xF0, 0x7D, 1, 2, 3, 0xF7], 1.5));
        session.Take(SessionPath.Data, [0x80, 0x61, 0, 9, 0, 0, 0, 0, 0x55, 0x66, 0x77, 0x88, 3, 0x90, 60, 1], 1.6);
        session.Tick(2.5);
        session.End();

        var capture = Path.Combine(_folder.FullName, "session.pcap");
        CaptureFile.Write(capture, wire.Sent.Select(one => (false, one.Path == SessionPath.Control ? Control : Data, one.Packet)));
        await using var tshark = TheProgram.Other(
            "tshark",
            ["-r", capture, "-d", $"udp.port=={Data},rtp", "-d", "rtp.pt==97,rtpmidi", "-T", "fields", "-E", "separator=,", "-E", "aggregator=;", .. SessionFields.Concat(MidiFields).SelectMany(field => new[] { "-e", field })]);
        await tshark.EndAsync(TimeSpan.FromSeconds(120));
        Assert.True(tshark.ExitCode == 0, string.Join('\n', tshark.Errors));
        Assert.Equal(
            [
                "0x494e,2,0x01020304,0x11223344,TrimAssist,,,,,,,,,,,,,,",
                "0x494e,2,0x01020304,0x11223344,TrimAssist,,,,,,,,,,,,,,",
                "0x434b,,,0x11223344,,0,,,,,,,,,,,,,",
                ",,,,,,,97,0x11223344,0x09,0x00,60,100,,,,,,",
                ",,,,,,,97,0x11223344,0x0b;0x0b;0x0c;0x0e;0x08,0x01;0x01;0x0f;0x00;0x02,61,0,7;39,1;2,5,64,,",
                ",,,,,,,97,0x11223344,,,,,,,,,0x7d,",
                "0x434b,,,0x11223344,,0,,,,,,,,,,,,,",
                "0x5253,,,0x11223344,,,9,,,,,,,,,,,,",
                "0x4259,2,0x01020304,0x11223344,,,,,,,,,,,,,,,",
            ],
            tshark.Output);
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static byte[] Bytes(params MidiMessage[] messages)
    {
        List<byte> all = [];
        var one = new byte[3];
        foreach (var message in messages)
        {
            Assert.True(message.TryWrite(one, out var length));
            all.AddRange(one[..length]);
        }

        return [.. all];
    }

    private sealed class Tape : ISessionWire
    {
        public List<(SessionPath Path, byte[] Packet)> Sent { get; } = [];

        public void Send(SessionPath path, ReadOnlySpan<byte> packet) => Sent.Add((path, packet.ToArray()));

        public void Answer(SessionPath path, ReadOnlySpan<byte> packet) => Sent.Add((path, packet.ToArray()));

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

    private sealed class Deaf : ISessionListener
    {
        public void OnOpened()
        {
        }

        public void OnMessage(ReadOnlySpan<byte> message)
        {
        }

        public void OnRestored(ReadOnlySpan<byte> message)
        {
        }

        public void OnLost(int packets)
        {
        }
    }
}
