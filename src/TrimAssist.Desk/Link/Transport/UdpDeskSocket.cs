using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>The UDP socket to one desk: one socket for what is sent and what arrives.</summary>
internal sealed class UdpDeskSocket : IDeskSocket
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
        _desk = HostLookup.EndPoint(connection.Desk!);
        _backup = connection.Backup is { } second ? HostLookup.EndPoint(second) : null;
        _socket = new Socket(_desk.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        _from = new SocketAddress(_desk.AddressFamily);
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

        Sources = HostLookup.Filter(connection, _backup is null ? [_desk] : [_desk, _backup]);
    }

    /// <inheritdoc/>
    public SourceFilter Sources { get; }

    /// <inheritdoc/>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <inheritdoc/>
    public string? Trouble => null;

    /// <inheritdoc/>
    public void Wait(TimeSpan wait) => _socket.Poll(wait, SelectMode.SelectRead);

    /// <inheritdoc/>
    public void Drain(DeskSession session, int most)
    {
        // A datagram may be empty: whether one waits is the socket's word, never the number of bytes.
        for (var count = 0; count < most && _socket.Poll(TimeSpan.Zero, SelectMode.SelectRead); count++)
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

    private static string Why(SocketException failed) => failed.SocketErrorCode == SocketError.AddressAlreadyInUse
        ? "the port is in use by another program."
        : failed.Message;
}
