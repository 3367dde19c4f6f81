using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>The UDP socket to one desk: one socket for what is sent and what arrives.</summary>
internal sealed class UdpDeskSocket : IDeskTransport, IDisposable
{
    /// <summary>Room asked for waiting datagrams; the system may grant less.</summary>
    private const int WantedReceiveBuffer = 4 * 1024 * 1024;

    private readonly Socket _socket;
    private readonly IDatagramReceiver _receiver;
    private readonly IPEndPoint? _backup;
    private IPEndPoint _desk;
    private TimeSpan _wait;
    private int _held;
    private int _handed;

    /// <summary>Opens the socket.</summary>
    /// <exception cref="DeskConnectException">A name cannot be resolved, or the port is in use.</exception>
    public UdpDeskSocket(ConnectionProfile connection)
    {
        _desk = Resolve(connection.Desk!);
        _backup = connection.Backup is { } second ? Resolve(second) : null;
        _socket = new Socket(_desk.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        var any = _desk.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any;
        var listen = connection.Listen is { } given ? Resolve(given) : new IPEndPoint(IPAddress.IsLoopback(_desk.Address) ? _desk.Address : any, 0);
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

        ReceiveBuffer = _socket.ReceiveBufferSize;
        _receiver = BatchReceiver.IsSupported ? new BatchReceiver(_socket) : new SingleReceiver(_socket);
        Sources = new SourceFilter(connection.AcceptFrom.Count > 0 ? connection.AcceptFrom.SelectMany(Addresses) : Own());
    }

    /// <summary>Who may speak.</summary>
    public SourceFilter Sources { get; }

    /// <summary>The room for waiting datagrams that the system really granted, in bytes.</summary>
    public int ReceiveBuffer { get; }

    /// <summary>Where this socket is bound.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Datagrams that the system threw away because nobody fetched them in time; <see langword="null"/> where it does not say.</summary>
    public long? Overflowed => _receiver.Overflowed;

    /// <summary>Waits for a datagram, at most <paramref name="wait"/>, and takes it in with those that wait behind it.</summary>
    public bool Wait(TimeSpan wait)
    {
        if (_handed < _held)
            return true;
        if (wait != _wait)
            _socket.ReceiveTimeout = Math.Max(1, (int)(_wait = wait).TotalMilliseconds);
        TakeIn(wait: true);
        return _held > 0;
    }

    /// <summary>Hands over what was taken in and what waits behind it, about <paramref name="most"/> datagrams. Allocates nothing.</summary>
    public void Drain(DeskSession session, int most)
    {
        for (var left = most; _handed < _held && left > 0; left--)
        {
            session.Receive(_receiver.Datagram(_handed++, out var from), from);
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
    public void Redirect(IPAddress engine) => _desk = _backup is { } backup && backup.Address.Equals(engine) ? backup : new(engine, _desk.Port);

    /// <inheritdoc/>
    public void Dispose()
    {
        _socket.Dispose();
        _receiver.Dispose();
    }

    private void TakeIn(bool wait) => (_held, _handed) = (_receiver.Receive(wait), 0);

    private IEnumerable<IPAddress> Own()
    {
        yield return _desk.Address;
        if (_backup is { } backup)
            yield return backup.Address;
    }

    private static IPEndPoint Resolve(HostAndPort where) => new(Addresses(where.Host)[0], where.Port);

    private static IPAddress[] Addresses(string host)
    {
        if (IPAddress.TryParse(host, out var address))
            return [address];
        try
        {
            return Dns.GetHostAddresses(host) is { Length: > 0 } found ? found : throw new DeskConnectException($"\"{host}\" has no address.");
        }
        catch (SocketException failed)
        {
            throw new DeskConnectException($"\"{host}\" cannot be found: {failed.Message}", failed);
        }
    }

    private static string Why(SocketException failed) => failed.SocketErrorCode == SocketError.AddressAlreadyInUse
        ? "the port is in use by another program."
        : failed.Message;
}
