using System.Net;
using TrimAssist.Desk.Midi;

namespace TrimAssist.Service.Tests.Desks.Midi;

/// <summary>Keeps what came in on a port.</summary>
internal sealed class HeardMidi : IMidiReceiver
{
    public List<byte[]> Pieces { get; } = [];

    public List<byte[]> Restorations { get; } = [];

    public List<long> Timestamps { get; } = [];

    public List<bool> Connections { get; } = [];

    public int Strangers { get; private set; }

    public int PacketsLost { get; private set; }

    public void Connected(bool again) => Connections.Add(again);

    public void Receive(ReadOnlySpan<byte> bytes, long timestamp)
    {
        Pieces.Add(bytes.ToArray());
        Timestamps.Add(timestamp);
    }

    public void Restored(ReadOnlySpan<byte> messages) => Restorations.Add(messages.ToArray());

    public void Lost(int packets) => PacketsLost += packets;

    public void Dropped(SocketAddress from) => Strangers++;
}
