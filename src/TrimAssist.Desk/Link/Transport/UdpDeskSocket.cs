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
    private readonly SocketAddress _from;
    private readonly byte[] _buffer = new byte[65_536];
    private readonly IPEndPoint? _backup;
    private IPEndPoint _desk;

    /// <summary>Opens the socket.</summary>
    /// <exception cref="DeskConnectException">A name cannot be resolved, or the port is in use.</exception>
    public UdpDeskSocket(ConnectionProfile connection)
    {
        _desk = Resolve(connection.Desk!);
        _backup = connection.Backup is { } second ? Resolve(second) : null;
        _socket = new Socket(_desk.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        _from = new SocketAddress(_desk.AddressFamily);
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
        Sources = new SourceFilter(connection.AcceptFrom.Count > 0 ? connection.AcceptFrom.SelectMany(Addresses) : Own());
    }

    /// <summary>Who may speak.</summary>
    public SourceFilter Sources { get; }

    /// <summary>The room for waiting datagrams that the system really granted, in bytes.</summary>
    public int ReceiveBuffer { get; }

    /// <summary>Where this socket is bound.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Waits for a datagram, at most <paramref name="wait"/>.</summary>
    public bool Wait(TimeSpan wait) => _socket.Poll(wait, SelectMode.SelectRead);

    /// <summary>Hands over what waits, up to <paramref name="most"/> datagrams. Allocates nothing.</summary>
    public void Drain(DeskSession session, int most)
    {
        for (var count = 0; count < most && Wait(TimeSpan.Zero); count++)
        {
            try
            {
                var length = _socket.ReceiveFrom(_buffer, SocketFlags.None, _from);
                session.Receive(_buffer.AsSpan(0, length), _from);
            }
            catch (SocketException)
            {
                // The network's word that nobody listens over there: the link's state will tell.
            }
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
    public void Dispose() => _socket.Dispose();

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
