using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using TrimAssist.TestKit.Midi;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Midi;

/// <summary>MIDI over the network, against a partner that was written by hand and against a second port of our own.</summary>
public sealed class RtpMidiPortTests : IDisposable
{
    private static readonly SourceFilter Loopback = new([IPAddress.Loopback]);
    private readonly RtpDesk _desk = new();
    private readonly HeardMidi _heard = new();

    [Fact]
    public void A_partner_is_invited_and_spoken_with()
    {
        using var port = Open();
        Assert.StartsWith("No answer to the invitation", port.Trouble, StringComparison.Ordinal);
        Until(port, () => _desk.HasService && port.Trouble is null);
        Assert.Equal([false], _heard.Connections);

        _desk.Say([[0xB0, 7, 100], [0xF0, 0x7D, 1, 2, 0xF7]]);
        Until(port, () => _heard.Pieces.Count == 2);
        Assert.Equal([(byte[])[0xB0, 7, 100], [0xF0, 0x7D, 1, 2, 0xF7]], _heard.Pieces);

        Assert.True(port.TrySend([0x90, 60, 100, 0xF0, 0x7D, 3, 0xF7], out _));
        Until(port, () => _desk.Heard.Count == 2);
        Assert.Equal([(byte[])[0x90, 60, 100], [0xF0, 0x7D, 3, 0xF7]], _desk.Heard);
    }

    [Fact]
    public void What_was_lost_is_restored_from_the_partners_journal_and_marked_as_late()
    {
        using var port = Open();
        Until(port, () => _desk.HasService && port.Trouble is null);
        _desk.Say([[0xB0, 7, 1]]);
        _desk.Say([[0xB0, 7, 2]], lost: true);
        _desk.Say([[0xB0, 8, 3]]);
        Until(port, () => _heard.Pieces.Count == 2);
        Assert.Equal([(byte[])[0xB0, 7, 2], [0xB0, 8, 3]], _heard.Restorations);
        Assert.Equal(1, _heard.PacketsLost);
    }

    [Fact]
    public void A_port_that_is_closed_ends_its_session()
    {
        using var port = Open();
        Until(port, () => _desk.HasService && port.Trouble is null);
        port.Dispose();
        Until(null, () => !_desk.HasService);
    }

    [Fact]
    public void Somebody_else_is_not_let_in()
    {
        using var port = MidiPorts.Await(new IPEndPoint(IPAddress.Loopback, 0), new SourceFilter([IPAddress.Parse("192.0.2.1")]), TimeProvider.System);
        using var stranger = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        stranger.SendTo([0xFF, 0xFF, (byte)'I', (byte)'N', 0, 0, 0, 2, 1, 2, 3, 4, 5, 6, 7, 8, 0], new IPEndPoint(IPAddress.Loopback, PortOf(port)));
        Until(port, () => _heard.Strangers == 1);
        Assert.Equal(0, stranger.Available);
    }

    [Fact]
    public void Two_ports_of_our_own_find_one_another()
    {
        using var waiting = MidiPorts.Await(new IPEndPoint(IPAddress.Loopback, 0), Loopback, TimeProvider.System);
        using var inviting = MidiPorts.Invite(new IPEndPoint(IPAddress.Loopback, PortOf(waiting)), null, Loopback, TimeProvider.System);
        var other = new HeardMidi();
        Until(inviting, () => { waiting.Drain(other, 8); return waiting.Trouble is null && inviting.Trouble is null; });
        Assert.True(waiting.TrySend([0xB0, 1, 2], out _));
        Until(inviting, () => _heard.Pieces.Count == 1);
        Assert.True(inviting.TrySend([0xB0, 3, 4], out _));
        Until(waiting, () => other.Pieces.Count == 1, other);
        inviting.Dispose();
        Until(waiting, () => waiting.Trouble is not null, other);
    }

    [Fact]
    public void Ports_in_use_are_one_sentence()
    {
        using var taken = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        var refused = Assert.Throws<DeskConnectException>(() => MidiPorts.Await((IPEndPoint)taken.LocalEndPoint!, Loopback, TimeProvider.System));
        Assert.EndsWith("a port is in use by another program.", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_packet_allocates_nothing()
    {
        using var port = Open();
        Until(port, () => _desk.HasService && port.Trouble is null);
        var quiet = new Quiet();
        long allocated = 0;
        for (var frame = 0; frame < 400; frame++)
        {
            _desk.Say([[0xA0, 36, 64], [0xA0, 37, 65], [0xF0, 0x7D, 1, 2, 0xF7]]);
            var before = GC.GetAllocatedBytesForCurrentThread();
            port.Wait(TimeSpan.FromSeconds(1));
            port.Drain(quiet, 512);
            allocated += frame < 200 ? 0 : GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(1200, quiet.Messages);
        Assert.Equal(0, allocated);
    }

    public void Dispose() => _desk.Dispose();

    private IMidiPort Open() => MidiPorts.Invite(_desk.EndPoint, null, Loopback, TimeProvider.System);

    private static int PortOf(IMidiPort port) => ((RtpMidiPort)port).LocalEndPoint.Port;

    // Loopback delivers at once; the bound only keeps a broken port from hanging the run.
    private void Until(IMidiPort? port, Func<bool> holds, HeardMidi? heard = null)
    {
        for (var began = TimeProvider.System.GetTimestamp(); !holds();)
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(20), $"never came about: {port?.Trouble}");
            port?.Wait(TimeSpan.FromMilliseconds(2));
            port?.Drain(heard ?? _heard, 64);
            _desk.Attend();
        }
    }

    private sealed class Quiet : IMidiReceiver
    {
        public int Messages { get; private set; }

        public void Connected(bool again)
        {
        }

        public void Receive(ReadOnlySpan<byte> bytes, long timestamp) => Messages++;

        public void Restored(ReadOnlySpan<byte> messages)
        {
        }

        public void Lost(int packets)
        {
        }
    }
}
