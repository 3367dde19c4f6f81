using System.Globalization;
using TrimAssist.Acceptance.Running;
using TrimAssist.Protocols.Osc;
using TrimAssist.Protocols.Osc.Framing;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Wireshark's OSC dissector reads what we send: over UDP, over TCP behind a length (OSC 1.0), over TCP in SLIP (OSC 1.1).</summary>
public sealed class TsharkTests : IDisposable
{
    private const ushort Datagrams = 9000;
    private const ushort Lengths = 9001;
    private const ushort Slips = 9002;
    private static readonly string[] Fields = ["osc.message.header.path", "osc.message.header.format", "osc.message.int32", "osc.message.float", "osc.message.double", "osc.message.string", "_ws.malformed"];
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-capture-");

    [Fact]
    public async Task Every_packet_is_dissected_whole()
    {
        Assert.SkipUnless(TheProgram.IsInstalled("tshark"), "tshark is not installed");
        var packets = Sample.Packets([.. Sample.Plain, .. Sample.Wide]).Where(one => one.Holds.Length > 0).ToList();
        var capture = Path.Combine(_folder.FullName, "sent.pcap");
        CaptureFile.Write(capture, packets.SelectMany(one => new[] { (false, Datagrams, one.Packet), (true, Lengths, Framed(one.Packet, slip: false)), (true, Slips, Framed(one.Packet, slip: true)) }));

        await using var tshark = TheProgram.Other(
            "tshark",
            ["-r", capture, "--enable-heuristic", "osc_udp", "-d", $"tcp.port=={Lengths},osc", "-d", $"tcp.port=={Slips},osc", "-T", "fields", "-E", "aggregator=;", .. Fields.SelectMany(field => new[] { "-e", field })]);
        await tshark.EndAsync(TimeSpan.FromSeconds(60));
        Assert.True(tshark.ExitCode == 0, string.Join('\n', tshark.Errors));
        Assert.Equal(packets.SelectMany(one => Enumerable.Repeat(Expected(one.Holds), 3)), tshark.Output);
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static byte[] Framed(byte[] packet, bool slip)
    {
        var frame = new byte[(2 * packet.Length) + 4];
        Assert.True(slip ? SlipFramer.TryWrite(packet, frame, out var length) : LengthPrefixFramer.TryWrite(packet, frame, out length));
        return frame[..length];
    }

    private static string Expected(OscMessage[] messages)
    {
        var arguments = messages.SelectMany(message => message.Arguments).ToList();
        string Numbers(byte tag) => string.Join(';', arguments.Where(one => one.Tag == tag).Select(one => one.Number!.Value.ToString(CultureInfo.InvariantCulture)));
        return string.Join(
            '\t',
            string.Join(';', messages.Select(message => message.Address)),
            string.Join(';', messages.Select(message => $",{string.Concat(message.Arguments.Select(one => (char)one.Tag))}")),
            Numbers(OscTypeTag.Int32),
            Numbers(OscTypeTag.Float),
            Numbers(OscTypeTag.Double),
            string.Join(';', arguments.Select(one => one.Text).OfType<string>()),
            "");
    }
}
