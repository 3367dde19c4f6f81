using System.Net;
using System.Net.Sockets;
using TrimAssist.Benchmarks.Desk;
using TrimAssist.Benchmarks.Osc;
using TrimAssist.Benchmarks.Peers;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Benchmarks;

/// <summary>
/// What a datagram costs from the kernel's queue to the sink. The queue is filled first and drained under the clock, in turn by bare C,
/// by a bare .NET receiver that only counts, and by the desk's socket with its session: the least of many rounds is told.
/// </summary>
internal static class QueuedDrain
{
    private const int Rounds = 150;
    private const int Queued = 3_200;

    public static int Run()
    {
        var profile = BenchmarkDesk.Profile(MeterPacking.OneInput);
        using var desk = new UdpDeskSocket(profile.Connection);
        var sink = new CountingSink();
        var session = new DeskSession(profile, sink, desk, desk.Sources, TimeProvider.System);
        using var bare = Bound();
        using var batch = BatchReceiver.TryOpen(bare) ?? throw new NotSupportedException("Only 64-bit Linux takes many datagrams at once.");
        using var single = Bound();
        using var c = Bound();
        var least = new[] { double.MaxValue, double.MaxValue, double.MaxValue, double.MaxValue };
        for (var round = 0; round < Rounds; round++)
        {
            Least(ref least[0], c.LocalEndPoint!, () => Native.DrainMany((int)c.Handle));
            Least(ref least[1], bare.LocalEndPoint!, () => Count(batch));
            Least(ref least[2], desk.LocalEndPoint, () => Drain(desk, session));
            Least(ref least[3], single.LocalEndPoint!, () => CountSingly(single));
        }

        Console.WriteLine(
            $$"""{"cUs": {{least[0]:0.000}}, "dotnetUs": {{least[1]:0.000}}, "deskUs": {{least[2]:0.000}}, "dotnetSingleUs": {{least[3]:0.000}}, "share": {{least[1] / least[2]:0.00}}, "readings": {{sink.Readings}}, "buffer": {{desk.ReceiveBuffer}}}""");
        return 0;
    }

    private static void Least(ref double least, EndPoint to, Func<int> drain)
    {
        using var sender = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        for (var i = 0; i < Queued; i++)
            sender.SendTo(MeterPackets.Singles[i % MeterPackets.Inputs], to);
        var began = TimeProvider.System.GetTimestamp();
        var got = drain();
        var each = TimeProvider.System.GetElapsedTime(began).TotalMicroseconds / Queued;
        if (got == Queued)
            least = Math.Min(least, each);
    }

    private static int Count(BatchReceiver receiver)
    {
        var total = 0;
        int got;
        do
        {
            got = receiver.Receive(wait: false);
            total += got;
        }
        while (got == receiver.Most);
        return total;
    }

    private static int CountSingly(Socket socket)
    {
        var buffer = new byte[2048];
        var from = new SocketAddress(AddressFamily.InterNetwork);
        var total = 0;
        for (; total < Queued; total++)
            socket.ReceiveFrom(buffer, SocketFlags.None, from);
        return total;
    }

    private static int Drain(UdpDeskSocket desk, DeskSession session)
    {
        var before = session.Counters.Received;
        desk.Wait(TimeSpan.FromMilliseconds(5));
        desk.Drain(session, int.MaxValue);
        return (int)(session.Counters.Received - before);
    }

    private static Socket Bound()
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp) { ReceiveBufferSize = 4 * 1024 * 1024 };
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return socket;
    }
}
