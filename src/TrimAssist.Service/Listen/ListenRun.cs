using System.Net;
using System.Net.Sockets;

namespace TrimAssist.Service.Listen;

/// <summary>Hears everything that is sent to a port, and sends nothing: the socket is only ever read.</summary>
internal sealed class ListenRun : IDisposable
{
    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(50);
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly byte[] _bytes = new byte[65_536];
    private readonly TimeProvider _time;
    private readonly long _began;

    /// <summary>Opens the port.</summary>
    /// <exception cref="IOException">The port cannot be had.</exception>
    public ListenRun(IPAddress address, int port, TimeProvider time)
    {
        (_time, _began) = (time, time.GetTimestamp());
        try
        {
            _socket.ReceiveBufferSize = 4 * 1024 * 1024;
            _socket.Bind(new IPEndPoint(address, port));
        }
        catch (SocketException failed)
        {
            _socket.Dispose();
            throw new IOException($"Cannot listen on port {port}: {(failed.SocketErrorCode == SocketError.AddressAlreadyInUse ? "it is in use by another program." : failed.Message)}", failed);
        }
    }

    /// <summary>The port that was had.</summary>
    public int Port => ((IPEndPoint)_socket.LocalEndPoint!).Port;

    /// <summary>What was heard.</summary>
    public WireSurvey Survey { get; } = new();

    /// <summary>Takes in what arrives within a moment.</summary>
    public void Hear()
    {
        EndPoint from = new IPEndPoint(IPAddress.Any, 0);
        var wait = LongestWait;
        while (_socket.Poll(wait, SelectMode.SelectRead))
        {
            try
            {
                var length = _socket.ReceiveFrom(_bytes, ref from);
                Survey.Take(_bytes.AsSpan(0, length), (IPEndPoint)from, _time.GetElapsedTime(_began).TotalSeconds);
            }
            catch (SocketException)
            {
                // A datagram larger than any can be, or the network's complaint about an earlier one.
            }

            wait = TimeSpan.Zero;
            if (Survey.Packets % 4096 == 0)
                return;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();
}
