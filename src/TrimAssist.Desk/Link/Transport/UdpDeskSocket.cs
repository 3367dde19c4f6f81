using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>The UDP socket to one desk: one socket for what is sent and what arrives.</summary>
internal sealed class UdpDeskSocket : IDeskSocket
{
    /// <summary>Room asked for waiting datagrams; the system may grant less.</summary>
    private const int WantedReceiveBuffer = 4 * 1024 * 1024;

    private readonly Socket _socket;
    private readonly IDatagramReceiver _receiver;
    private readonly IPEndPoint[] _engines;
    private IPEndPoint _desk;
    private TimeSpan _wait;
    private int _held;
    private int _handed;

    /// <summary>Opens the socket.</summary>
    /// <exception cref="DeskConnectException">A name cannot be resolved, or the port is in use.</exception>
    public UdpDeskSocket(ConnectionProfile connection)
    {
        _engines = [.. new[] { connection.Desk, connection.Backup }.OfType<HostAndPort>().Select(HostLookup.EndPoint)];
        _desk = _engines[0];
        _socket = new Socket(_desk.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        var any = _desk.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any;
        var listen = connection.Listen is { } given ? HostLookup.EndPoint(given) : new IPEndPoint(IPAddress.IsLoopback(_desk.Address) ? _desk.Address : any, 0);
        try
        {
            _socket.ReceiveBufferSize = WantedReceiveBuffer;
            _socket.Bind(listen);
        }
        catch (SocketException failed)
        {
            _socket.Dispose();
            throw new DeskConnectException($"Cannot listen for the desk on {listen}: {Why(failed)}", failed);
        }

        Sources = HostLookup.Filter(connection, _engines);
        ReceiveBuffer = _socket.ReceiveBufferSize;
        _receiver = (IDatagramReceiver?)BatchReceiver.TryOpen(_socket) ?? new SingleReceiver(_socket);
    }

    /// <inheritdoc/>
    public SourceFilter Sources { get; }

    /// <inheritdoc/>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <inheritdoc/>
    public Saying? Trouble => null;

    /// <inheritdoc/>
    public IReadOnlyList<IPAddress> Engines => [.. _engines.Select(engine => engine.Address)];

    /// <inheritdoc/>
    public int? ReceiveBuffer { get; }

    /// <inheritdoc/>
    public long? Overflowed => _receiver.Overflowed;

    /// <summary>Waits for a datagram, at most <paramref name="wait"/>, and takes it in with those that wait behind it.</summary>
    public void Wait(TimeSpan wait)
    {
        if (_handed < _held)
            return;
        if (wait != _wait)
            _socket.ReceiveTimeout = Math.Max(1, (int)(_wait = wait).TotalMilliseconds);
        TakeIn(wait: true);
    }

    /// <summary>Hands over what was taken in and what waits behind it, about <paramref name="most"/> datagrams. Allocates nothing.</summary>
    public void Drain(IPacketSink sink, int most)
    {
        if (_handed == _held)
            TakeIn(wait: false);
        for (var left = most; _handed < _held && left > 0; left--)
        {
            sink.Receive(_receiver.Datagram(_handed++, out var from), from, sameMoment: _handed > 1);
            // A batch that was not full has emptied the socket.
            if (_handed == _receiver.Most)
                TakeIn(wait: false);
        }
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> packet, out string? fault)
    {
        try
        {
            _socket.SendTo(packet, SocketFlags.None, _desk);
            fault = null;
            return true;
        }
        catch (SocketException failed)
        {
            fault = failed.Message;
            return false;
        }
    }

    /// <inheritdoc/>
    public void Redirect(IPAddress engine) => _desk = Array.Find(_engines, named => named.Address.Equals(engine)) ?? new(engine, _engines[0].Port);

    /// <inheritdoc/>
    public void Dispose()
    {
        _socket.Dispose();
        _receiver.Dispose();
    }

    private void TakeIn(bool wait) => (_held, _handed) = (_receiver.Receive(wait), 0);

    private static string Why(SocketException failed) => failed.SocketErrorCode == SocketError.AddressAlreadyInUse
        ? "the port is in use by another program."
        : failed.Message;
}
