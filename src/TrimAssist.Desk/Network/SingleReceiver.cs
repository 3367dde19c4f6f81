using System.Net;
using System.Net.Sockets;

namespace TrimAssist.Desk.Network;

/// <summary>One datagram a call: what every system can do.</summary>
internal sealed class SingleReceiver(Socket socket) : IDatagramReceiver
{
    private readonly byte[] _buffer = new byte[65_536];
    private readonly SocketAddress _from = new(socket.AddressFamily);
    private int _length;

    /// <inheritdoc/>
    public int Most => 1;

    /// <inheritdoc/>
    public long? Overflowed => null;

    /// <inheritdoc/>
    public int Receive(bool wait)
    {
        try
        {
            // A datagram may be empty: whether one waits is the socket's word, never the number of bytes.
            if (!wait && !socket.Poll(TimeSpan.Zero, SelectMode.SelectRead))
                return 0;
            _length = socket.ReceiveFrom(_buffer, SocketFlags.None, _from);
            return 1;
        }
        catch (SocketException)
        {
            // Nothing came in time, or the network says that nobody listens over there: the link's state will tell.
            return 0;
        }
    }

    /// <inheritdoc/>
    public ReadOnlySpan<byte> Datagram(int index, out SocketAddress from)
    {
        from = _from;
        return _buffer.AsSpan(0, _length);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
