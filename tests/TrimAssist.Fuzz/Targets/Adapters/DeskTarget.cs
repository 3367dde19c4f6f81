using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>
/// Any bytes as the packets of a desk, each behind its length, to a whole session: no exception, no value of a setting that is no number, nothing
/// sent that the profile does not ask.
/// </summary>
public static class DeskTarget
{
    private static readonly SocketAddress Desk = new IPEndPoint(IPAddress.Loopback, 9000).Serialize();

    private static readonly DeskProfile Osc = Profile("""
        id = "fuzz"
        inputs = 8
        [connection]
        desk = "127.0.0.1:9000"
        [[meters]]
        address = "/m/{input}"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 50
        [[meters]]
        address = "/b"
        quantity = "rms"
        unit = "amplitude"
        packing = "blob"
        skip_bytes = 2
        frame_ms = 50
        [[overload]]
        address = "/o"
        packing = "arguments"
        [controls.trim]
        address = "/t/{socket}"
        arguments = ["x", "{value}"]
        curve = [[0.0, 0.0], [0.5, 20.0], [1.0, 60.0]]
        [controls.pad]
        address = "/p/{input-1:00}"
        on = "in"
        off = "out"
        pad_db = 20.0
        [controls.mute]
        address = "/c"
        arguments = ["{input}", "{value}"]
        on = true
        off = false
        [controls.source]
        address = "/s/{input}"
        [controls.label]
        address = "/n/{input}"
        [controls.link]
        address = "/l/{input}"
        [controls.fader]
        address = "/f/{input}"
        unit = "db"
        """);

    private static readonly DeskProfile Midi = Profile("""
        id = "fuzz"
        inputs = 8
        [connection]
        transport = "midi"
        port = "rtp:127.0.0.1:5004"
        [[meters]]
        poly_pressure = { channel = 1, note = "{input+35}" }
        quantity = "peak"
        range_db = [-63.5, 0.0]
        frame_ms = 50
        [[meters]]
        sysex = "F0 7D 02 {value:2} F7"
        packing = "blob"
        quantity = "rms"
        range_db = [-63.5, 0.0]
        frame_ms = 50
        [controls.trim]
        nrpn = { channel = 2, parameter = "{input+300}" }
        range_db = [0.0, 60.0]
        [controls.pad]
        cc14 = { channel = 3, controller = "{input+10}" }
        on = 1
        off = 0
        pad_db = 20.0
        [controls.mute]
        sysex = "F0 7D 01 {input} {value:2} {checksum} F7"
        on = 127
        off = 0
        """);

    public static void RunOsc(ReadOnlySpan<byte> bytes) => Run(Osc, bytes);

    public static void RunMidi(ReadOnlySpan<byte> bytes) => Run(Midi, bytes);

    private static void Run(DeskProfile profile, ReadOnlySpan<byte> bytes)
    {
        var time = new StepTime();
        var sink = new Sink();
        var session = new DeskSession(profile, sink, new Nowhere(), new SourceFilter([IPAddress.Loopback]), time);
        session.Start();
        for (var packets = 0; packets < 64 && !bytes.IsEmpty; packets++)
        {
            var length = Math.Min(bytes[0], bytes.Length - 1);
            session.Receive(bytes.Slice(1, length), Desk);
            bytes = bytes[(1 + length)..];
            time.Ms += 25;
            session.Tick();
        }

        for (var input = 1; input <= profile.Inputs; input++)
        {
            var settings = session.Settings(input);
            Expect.That(settings.Trim is not { } trim || double.IsFinite(trim.Value), "a trim that is no number");
            Expect.That(settings.FaderDb is not { } fader || !double.IsNaN(fader), "a fader that is no number");
        }
    }

    private static DeskProfile Profile(string text)
    {
        var reading = ProfileReader.Read(text, "fuzz.toml");
        return reading.Profile ?? throw new InvalidOperationException(string.Join('\n', reading.Errors));
    }

    private sealed class StepTime : TimeProvider
    {
        public long Ms { get; set; }

        public override long TimestampFrequency => 1000;

        public override long GetTimestamp() => Ms;
    }

    private sealed class Nowhere : IDeskTransport
    {
        public Saying? Trouble => null;

        public IReadOnlyList<IPAddress> Engines => [];

        public bool TrySend(ReadOnlySpan<byte> packet, out string? fault)
        {
            fault = null;
            return true;
        }

        public void Redirect(IPAddress engine)
        {
        }
    }

    private sealed class Sink : IDeskSink
    {
        public void OnReading(in MeterReading reading) => Expect.That(!double.IsNaN(reading.TimeS), "a reading without a time");

        public void OnSettings(InputSettings before, InputSettings now) => Expect.That(before != now, "nothing new");

        public void OnLink(LinkState state, Saying reason) => Expect.That(reason.ToString().Length > 0, "no reason");

        public void OnDeskNote(DeskNote note) => Expect.That(note.Kind != DeskNoteKind.Fault, note.Text);
    }
}
