using System.Net.Sockets;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>What waits to go out on a stream. Bounded; a frame goes out whole or not at all; nothing outlives its connection.</summary>
internal sealed class StreamOutbox(DeskFraming framing)
{
    /// <summary>Room for what the desk has not taken yet.</summary>
    public const int Room = 256 * 1024;

    private readonly byte[] _bytes = new byte[Room];
    private int _start;
    private int _end;

    /// <summary>Frames a packet and puts it in line; <see langword="false"/> where there is no room.</summary>
    public bool TryAdd(ReadOnlySpan<byte> packet)
    {
        if (_start > 0)
        {
            _bytes.AsSpan(_start.._end).CopyTo(_bytes);
            (_start, _end) = (0, _end - _start);
        }

        var room = _bytes.AsSpan(_end);
        var fits = framing == DeskFraming.Slip
            ? SlipFramer.TryWrite(packet, room, out var written)
            : LengthPrefixFramer.TryWrite(packet, room, out written);
        _end += fits ? written : 0;
        return fits;
    }

    /// <summary>Sends as much as the network takes at once.</summary>
    /// <returns>What went wrong; <see cref="SocketError.Success"/> also where some has to wait.</returns>
    public SocketError Flush(Socket socket)
    {
        while (_start < _end)
        {
            var sent = socket.Send(_bytes.AsSpan(_start.._end), SocketFlags.None, out var error);
            if (error != SocketError.Success)
                return error is SocketError.WouldBlock or SocketError.TryAgain or SocketError.NoBufferSpaceAvailable ? SocketError.Success : error;
            _start += sent;
        }

        return SocketError.Success;
    }

    /// <summary>Forgets what waits: it was meant for a connection that is gone.</summary>
    public void Clear() => _start = _end = 0;
}
