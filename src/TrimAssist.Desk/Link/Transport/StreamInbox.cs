using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>What comes in on one connection at a time: bytes off the socket, packets to whoever listens. Memory is bounded by one buffer and one frame.</summary>
internal sealed class StreamInbox(DeskFraming framing)
{
    private readonly byte[] _received = new byte[65_536];
    private int _start;
    private int _end;
    private IOscDeframer _deframer = NewDeframer(framing);
    private long _refused;
    private SocketAddress _peer = new(AddressFamily.InterNetwork);

    /// <summary>Begins afresh with a new connection.</summary>
    public void Begin(SocketAddress peer) => (_peer, _deframer, _refused, _start, _end) = (peer, NewDeframer(framing), 0, 0, 0);

    /// <summary>How many times bytes have come, on all connections together.</summary>
    public long Arrivals { get; private set; }

    /// <summary>Whether bytes have been taken off the socket that have not been looked at.</summary>
    public bool HasMore => _start < _end;

    /// <summary>Hands over what has arrived, up to <paramref name="most"/> packets.</summary>
    /// <returns>Why the connection is over; <see langword="null"/> while it holds.</returns>
    public string? Drain(Socket socket, IPacketSink sink, int most)
    {
        for (var count = 0; count < most; count++)
        {
            if (!HasMore && (!TryReceive(socket, out var over) || over is not null))
                return over;
            TakeOne(sink);
            if (_deframer.IsLost)
                return $"the stream made no sense any more ({_deframer.Error}).";
        }

        return null;
    }

    private bool TryReceive(Socket socket, out string? over)
    {
        over = null;
        if (!socket.Poll(TimeSpan.Zero, SelectMode.SelectRead))
            return false;
        (_start, _end) = (0, socket.Receive(_received, SocketFlags.None, out var error));
        if (error is SocketError.WouldBlock or SocketError.TryAgain)
            return false;
        Arrivals += _end > 0 ? 1 : 0;
        over = error != SocketError.Success ? StreamFaults.Text(error) : _end == 0 ? "the desk closed it." : null;
        return true;
    }

    private void TakeOne(IPacketSink sink)
    {
        ReadOnlySpan<byte> rest = _received.AsSpan(_start.._end);
        var whole = _deframer.TryRead(ref rest, out var packet);

        // Noted before the packet is heard: whatever goes wrong there, the stream goes on behind it.
        _start = _end - rest.Length;
        if (_deframer.Refused != _refused)
        {
            sink.CountUnreadable((int)(_deframer.Refused - _refused), $"a bad frame ({_deframer.Error})");
            _refused = _deframer.Refused;
        }

        if (whole)
            sink.Receive(packet, _peer);
    }

    private static IOscDeframer NewDeframer(DeskFraming framing) => framing == DeskFraming.Slip ? new SlipDeframer() : new LengthPrefixDeframer();
}
