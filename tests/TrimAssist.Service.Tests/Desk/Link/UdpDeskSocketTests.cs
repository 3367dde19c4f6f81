using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class UdpDeskSocketTests : IDisposable
{
    private const int Inputs = 64;
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(500);

    private readonly DeskProfile _profile = Profile();
    private readonly Socket _sender = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly Sink _sink = new();
    private readonly UdpDeskSocket _socket;
    private readonly DeskSession _session;

    public UdpDeskSocketTests()
    {
        _socket = new UdpDeskSocket(_profile.Connection);
        _session = new DeskSession(_profile, _sink, _socket, _socket.Sources, TimeProvider.System);
    }

    public void Dispose()
    {
        _socket.Dispose();
        _sender.Dispose();
    }

    [Fact]
    public void A_second_without_a_look_at_64_messages_50_times_a_second_loses_nothing()
    {
        Assert.SkipWhen(_socket.ReceiveBuffer < 4 * 1024 * 1024, $"The system grants {_socket.ReceiveBuffer} bytes only.");
        for (var frame = 0; frame < 50; frame++)
        {
            for (var input = 1; input <= Inputs; input++)
                Send(input, frame);
        }

        DrainAll();

        Assert.Equal(50 * Inputs, _session.Counters.Received);
        Assert.Equal(0, _socket.Overflowed ?? 0);
    }

    [Fact]
    public void What_the_system_throws_away_is_counted()
    {
        Assert.SkipWhen(_socket.Overflowed is null, "This system does not say what it threw away.");
        const int Sent = 60_000;
        for (var i = 0; i < Sent; i++)
            Send((i % Inputs) + 1, i);
        DrainAll();
        Send(1, 0);
        DrainAll();

        Assert.True(_socket.Overflowed > 0, "Nothing was thrown away: the buffer is larger than this test thinks.");
        Assert.Equal(Sent + 1, _session.Counters.Received + _socket.Overflowed);
    }

    [Fact]
    public void A_batch_is_taken_in_with_one_call()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        using var receiver = BatchReceiver.TryOpen(socket);
        Assert.SkipWhen(receiver is null, "This system does not take many at once.");
        for (var i = 0; i < 100; i++)
            _sender.SendTo([(byte)i, 0, 0, 0], socket.LocalEndPoint!);

        Assert.Equal(64, receiver.Receive(wait: true));
        Assert.Equal([63, 0, 0, 0], receiver.Datagram(63, out var from).ToArray());
        Assert.Equal(_sender.LocalEndPoint!.Serialize().Buffer[..4], from.Buffer[..4]);
        Assert.Equal(36, receiver.Receive(wait: true));
        Assert.Equal(0, receiver.Receive(wait: false));
    }

    [Fact]
    public void The_largest_datagram_arrives_whole()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp) { ReceiveTimeout = 500 };
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        using var receiver = (IDatagramReceiver?)BatchReceiver.TryOpen(socket) ?? new SingleReceiver(socket);
        var datagram = new byte[65_507];
        Random.Shared.NextBytes(datagram);
        _sender.SendTo(datagram, socket.LocalEndPoint!);

        Assert.Equal(1, receiver.Receive(wait: true));
        Assert.Equal(datagram, receiver.Datagram(0, out _).ToArray());
    }

    [Fact]
    public void One_datagram_at_a_time_is_heard_where_the_system_knows_no_batches()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp) { ReceiveTimeout = 50 };
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        using var receiver = new SingleReceiver(socket);
        _sender.SendTo([1, 2, 3, 4], socket.LocalEndPoint!);

        Assert.Equal(1, receiver.Receive(wait: true));
        Assert.Equal([1, 2, 3, 4], receiver.Datagram(0, out var from).ToArray());
        Assert.True(new SourceFilter([IPAddress.Loopback]).Admits(from));
        Assert.Equal(0, receiver.Receive(wait: false));
        Assert.Equal(0, receiver.Receive(wait: true));
    }

    [Fact]
    public void A_fault_in_one_packet_leaves_those_behind_it_to_be_heard()
    {
        _sink.FailOnce = true;
        for (var input = 1; input <= 3; input++)
            Send(input, 0);
        _socket.Wait(Patience);

        Assert.Throws<InvalidOperationException>(() => _socket.Drain(_session, 100));
        _socket.Wait(Patience);
        _socket.Drain(_session, 100);

        Assert.Equal(2, _sink.Readings);
    }

    [Fact]
    public void From_the_socket_to_the_reading_nothing_is_allocated()
    {
        for (var frame = 0; frame < 3; frame++)
            SendFrame(frame);
        DrainAll();
        for (var frame = 3; frame < 10; frame++)
            SendFrame(frame);

        var before = GC.GetAllocatedBytesForCurrentThread();
        _socket.Wait(Patience);
        _socket.Drain(_session, 10_000);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.Equal(10 * Inputs, _session.Counters.Received);
        Assert.Equal(0, allocated);
    }

    private void SendFrame(int frame)
    {
        for (var input = 1; input <= Inputs; input++)
            Send(input, frame);
    }

    private void DrainAll()
    {
        long before;
        do
        {
            before = _session.Counters.Received;
            _socket.Wait(TimeSpan.FromMilliseconds(20));
            _socket.Drain(_session, 512);
        }
        while (_session.Counters.Received > before);
    }

    // Every level is another one: the same level at once after itself would be a datagram that came twice.
    private void Send(int input, int frame)
    {
        Span<byte> buffer = stackalloc byte[32];
        var writer = new OscWriter(buffer);
        Span<byte> address = stackalloc byte[6];
        "/lv/"u8.CopyTo(address);
        address[4] = (byte)('0' + (input / 10));
        address[5] = (byte)('0' + (input % 10));
        writer.BeginMessage(address, "f"u8);
        writer.WriteFloat(-60 + (frame % 1000 * 0.01f));
        writer.EndMessage();
        writer.TryFinish(out var length);
        _sender.SendTo(buffer[..length], _socket.LocalEndPoint);
    }

    private static DeskProfile Profile() => ProfileReader.Read(
        $$"""
        id = "socket"
        inputs = {{Inputs}}
        [connection]
        transport = "udp"
        desk = "127.0.0.1:9"
        listen = "127.0.0.1:0"
        [[meters]]
        address = "/lv/{input:00}"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 20
        tap = "converter"
        follows_mute = false
        """,
        "socket.toml").Profile!;

    private sealed class Sink : IDeskSink
    {
        public int Readings { get; private set; }

        public bool FailOnce { get; set; }

        public void OnReading(in MeterReading reading)
        {
            if (FailOnce)
            {
                FailOnce = false;
                throw new InvalidOperationException("The sink fails once.");
            }

            Readings++;
        }

        public void OnSettings(InputSettings before, InputSettings now)
        {
        }

        public void OnLink(LinkState state, Saying reason)
        {
        }

        public void OnDeskNote(DeskNote note)
        {
        }
    }
}
