using System.Net;
using BenchmarkDotNet.Attributes;
using TrimAssist.Benchmarks.Osc;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Benchmarks.Desk;

/// <summary>From a packet to the sink's reading: source filter, clock, decoding, template, meter clock. Per reading.</summary>
public class SessionBenchmarks
{
    private readonly SocketAddress _from = new IPEndPoint(IPAddress.Loopback, 9).Serialize();
    private DeskSession _singles = null!;
    private DeskSession _blobs = null!;

    [GlobalSetup]
    public void Open()
    {
        _singles = Session(MeterPacking.OneInput);
        _blobs = Session(MeterPacking.Blob);
    }

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs)]
    public void Singles()
    {
        foreach (var packet in MeterPackets.Singles)
            _singles.Receive(packet, _from);
    }

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs)]
    public void Bundle() => _singles.Receive(MeterPackets.Bundle, _from);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs)]
    public void Blob() => _blobs.Receive(MeterPackets.Blob, _from);

    private static DeskSession Session(MeterPacking meters) => new(
        BenchmarkDesk.Profile(meters), new CountingSink(), new NoTransport(), new SourceFilter([IPAddress.Loopback]), new FrameTime());

    private sealed class NoTransport : IDeskTransport
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

    // A real clock's cost, and yet each call one frame later: the same level in the same instant would be a repeated datagram.
    private sealed class FrameTime : TimeProvider
    {
        private long _frames;

        public override long GetTimestamp() => (System.GetTimestamp() & 1) + (++_frames * TimestampFrequency / 50);
    }
}
