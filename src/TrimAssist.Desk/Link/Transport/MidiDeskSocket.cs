using System.Net;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>A MIDI port in the place of a socket. What comes in on a port of this machine counts as come from this machine.</summary>
internal sealed class MidiDeskSocket : IDeskSocket, IMidiReceiver
{
    private readonly IMidiPort _port;
    private readonly SocketAddress _desk;
    private IPacketSink? _sink;

    /// <summary>Takes over a port.</summary>
    /// <param name="port">The port.</param>
    /// <param name="sources">Who may speak.</param>
    /// <param name="desk">The desk's address, which is let in.</param>
    public MidiDeskSocket(IMidiPort port, SourceFilter sources, IPEndPoint desk) => (_port, Sources, _desk) = (port, sources, desk.Serialize());

    /// <inheritdoc/>
    public SourceFilter Sources { get; }

    /// <summary>A MIDI port has no one place on the network.</summary>
    public IPEndPoint? LocalEndPoint => null;

    /// <summary>MIDI is slow: nothing piles up.</summary>
    public int? ReceiveBuffer => null;

    /// <summary>What a port lost is told as a gap.</summary>
    public long? Overflowed => null;

    /// <inheritdoc/>
    public Saying? Trouble => _port.Trouble;

    /// <summary>None: a port has one other side.</summary>
    public IReadOnlyList<IPAddress> Engines => [];

    /// <summary>Opens the port that a profile names.</summary>
    /// <exception cref="DeskConnectException">It cannot be had; the message is a sentence for the user.</exception>
    public static MidiDeskSocket Open(ConnectionProfile connection, TimeProvider time)
    {
        if (connection.Desk is not { } host)
        {
            var here = new IPEndPoint(IPAddress.Loopback, 0);
            return new MidiDeskSocket(MidiPorts.OpenSystem(connection.MidiPort!, time), new SourceFilter([here.Address]), here);
        }

        var desk = HostLookup.EndPoint(host);
        var sources = HostLookup.Filter(connection, [desk]);
        var listen = connection.Listen is { } given ? HostLookup.EndPoint(given) : null;
        return new MidiDeskSocket(MidiPorts.Invite(desk, listen, sources, time), new SourceFilter([desk.Address]), desk);
    }

    /// <inheritdoc/>
    public void Wait(TimeSpan wait) => _port.Wait(wait);

    /// <inheritdoc/>
    public void Drain(IPacketSink sink, int most)
    {
        _sink = sink;
        _port.Drain(this, most);
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> packet, out string? fault) => _port.TrySend(packet, out fault);

    /// <summary>Nothing to do: a port has one other side.</summary>
    public void Redirect(IPAddress engine)
    {
    }

    /// <inheritdoc/>
    public void Dispose() => _port.Dispose();

    void IMidiReceiver.Connected(bool again) => _sink!.Connected(again);

    void IMidiReceiver.Receive(ReadOnlySpan<byte> bytes, long timestamp) => _sink!.Receive(bytes, _desk);

    // The desk's state is what counts, however late it is told.
    void IMidiReceiver.Restored(ReadOnlySpan<byte> messages) => _sink!.Receive(messages, _desk);

    void IMidiReceiver.Lost(int packets) => _sink!.Gap(packets);

    // Heard as a packet of nobody's, so that it is counted and noted with the others that are not let in.
    void IMidiReceiver.Dropped(SocketAddress from) => _sink!.Receive([], from);

    void IMidiReceiver.Unreadable(int count, string reason) => _sink!.CountUnreadable(count, reason);
}
