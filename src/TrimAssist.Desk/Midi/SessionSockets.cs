using System.Diagnostics.CodeAnalysis;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Network;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Desk.Midi;

/// <summary>The two UDP sockets of an RTP-MIDI session, on ports side by side, and who is on their other side.</summary>
internal sealed class SessionSockets : IDisposable
{
    private const int Tries = 64;
    private readonly Socket[] _sockets;
    private readonly SingleReceiver[] _receivers;
    private readonly IPEndPoint?[] _invited = new IPEndPoint?[2];
    private readonly SocketAddress?[] _partner = new SocketAddress?[2];
    private readonly SocketAddress?[] _remembered = new SocketAddress?[2];
    private TimeSpan _wait;
    private bool _held;

    /// <summary>Opens the sockets.</summary>
    /// <param name="invited">The lower port of whoever is invited; <see langword="null"/> for nobody.</param>
    /// <param name="listen">The lower port on this side; <see langword="null"/> for any pair that is free.</param>
    /// <exception cref="DeskConnectException">The ports cannot be had.</exception>
    public SessionSockets(IPEndPoint? invited, IPEndPoint? listen)
    {
        if (invited is not null)
            (_invited[0], _invited[1]) = (invited, new IPEndPoint(invited.Address, invited.Port + 1));
        _sockets = Open(listen ?? AnyFor(invited), isFree: listen is null or { Port: 0 });
        _receivers = [new SingleReceiver(_sockets[0]), new SingleReceiver(_sockets[1])];
        Return();
    }

    /// <summary>The lower port on this side.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_sockets[0].LocalEndPoint!;

    /// <summary>Waits for a packet on the data port, at most <paramref name="wait"/>; the control port is looked at between.</summary>
    public void Wait(TimeSpan wait)
    {
        if (_held)
            return;
        if (wait != _wait)
            _sockets[1].ReceiveTimeout = Math.Max(1, (int)(_wait = wait).TotalMilliseconds);
        _held = _receivers[1].Receive(wait: true) > 0;
    }

    /// <summary>The next packet; <see langword="false"/> where none waits.</summary>
    public bool TryReceive(out SessionPath path, out ReadOnlySpan<byte> packet, [NotNullWhen(true)] out SocketAddress? from)
    {
        path = SessionPath.Control;
        if (_receivers[0].Receive(wait: false) == 0)
        {
            path = SessionPath.Data;
            if (!_held && _receivers[1].Receive(wait: false) == 0)
            {
                packet = default;
                from = null;
                return false;
            }

            _held = false;
        }

        packet = _receivers[(int)path].Datagram(0, out from);
        return true;
    }

    /// <summary>Sends to the partner; <see langword="false"/> with the reason where the network refuses, or there is none.</summary>
    public bool TrySend(SessionPath path, ReadOnlySpan<byte> packet, out string? fault)
    {
        fault = "Nobody is on the other side.";
        return _partner[(int)path] is { } partner && TrySend(path, packet, partner, out fault);
    }

    /// <summary>Sends to anybody; what the network refuses is gone.</summary>
    public bool TrySend(SessionPath path, ReadOnlySpan<byte> packet, SocketAddress to, out string? fault)
    {
        try
        {
            _sockets[(int)path].SendTo(packet, SocketFlags.None, to);
            fault = null;
            return true;
        }
        catch (SocketException failed)
        {
            fault = failed.Message;
            return false;
        }
    }

    /// <summary>Keeps a sender in mind.</summary>
    public void Remember(SessionPath path, SocketAddress from)
    {
        var copy = new SocketAddress(from.Family, from.Size);
        from.Buffer.Span[..from.Size].CopyTo(copy.Buffer.Span);
        _remembered[(int)path] = copy;
    }

    /// <summary>Makes whoever is kept in mind the partner.</summary>
    public void Adopt() => (_partner[0], _partner[1]) = (_remembered[0], _remembered[1]);

    /// <summary>Makes whoever is invited the partner.</summary>
    public void Return() => (_partner[0], _partner[1]) = (_invited[0]?.Serialize(), _invited[1]?.Serialize());

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var socket in _sockets)
            socket.Dispose();
    }

    private static IPEndPoint AnyFor(IPEndPoint? invited) => new(
        invited is null ? IPAddress.Any : IPAddress.IsLoopback(invited.Address) ? invited.Address : invited.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any, 0);

    // A free port is easily had, two side by side take a few tries.
    private static Socket[] Open(IPEndPoint listen, bool isFree)
    {
        for (var left = isFree ? Tries : 1; ; left--)
        {
            List<Socket> sockets = [];
            try
            {
                sockets.Add(Bound(listen));
                var port = ((IPEndPoint)sockets[0].LocalEndPoint!).Port;
                sockets.Add(Bound(new IPEndPoint(listen.Address, Math.Min(port + 1, IPEndPoint.MaxPort))));
                return [.. sockets];
            }
            catch (SocketException failed)
            {
                sockets.ForEach(socket => socket.Dispose());
                if (left <= 1)
                    throw new DeskConnectException($"Cannot open the two ports of a MIDI session on {listen} and the one above it: {(failed.SocketErrorCode == SocketError.AddressAlreadyInUse ? "a port is in use by another program." : failed.Message)}", failed);
            }
        }
    }

    private static Socket Bound(IPEndPoint where)
    {
        var socket = new Socket(where.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        try
        {
            socket.Bind(where);
            return socket;
        }
        catch (SocketException)
        {
            socket.Dispose();
            throw;
        }
    }
}
