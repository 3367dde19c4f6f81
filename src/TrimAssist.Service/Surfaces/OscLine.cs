using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Desks;
using TrimAssist.Desk.Network;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Surfaces;

/// <summary>The way to a surface that speaks OSC: one UDP socket.</summary>
/// <param name="place">Where it is.</param>
/// <param name="face">Its presses and pictures.</param>
internal sealed class OscLine(OscPlace place, OscFace face) : ISurfaceLine
{
    private const int MostPacketsATurn = 32;
    private const int LargestPacket = 4096;
    private readonly Socket _socket = new(place.Listen.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
    private readonly SourceFilter _sources = new(place.AcceptFrom);
    private readonly byte[] _packet = new byte[LargestPacket];

    /// <summary>None: a datagram leaves whether anybody is there or not.</summary>
    public string? Trouble => null;

    /// <inheritdoc/>
    public void Open()
    {
        try
        {
            _socket.Bind(place.Listen);
        }
        catch (SocketException taken)
        {
            throw new WorkFailedException($"cannot listen on {place.Listen}: {taken.Message}");
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<Press> Presses(out bool isSomebodyNew)
    {
        // A socket cannot tell: pictures go out again and again, and a controller that has just been switched on has seen none of them.
        isSomebodyNew = false;
        List<Press> presses = [];
        var from = new SocketAddress(_socket.AddressFamily);
        // A flood is left lying in the system's buffer: presses are few.
        for (var count = 0; count < MostPacketsATurn && _socket.Available > 0; count++)
        {
            try
            {
                var length = _socket.ReceiveFrom(_packet, SocketFlags.None, from);
                if (_sources.Admits(from) && face.Read(_packet.AsSpan(0, length)) is { } press)
                    presses.Add(press);
            }
            catch (SocketException)
            {
                // Larger than any press, or the network's word about an earlier picture.
            }
        }

        return presses;
    }

    /// <inheritdoc/>
    public bool TryShow(SurfacePicture picture, LinkState link, string answer)
    {
        try
        {
            _socket.SendTo(OscFace.Write(picture, link.ToString().ToLowerInvariant(), answer), place.Feedback);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();
}
