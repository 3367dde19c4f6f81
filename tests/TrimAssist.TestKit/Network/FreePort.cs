using System.Net;
using System.Net.Sockets;

namespace TrimAssist.TestKit.Network;

/// <summary>
/// A port for somebody who must be told one. It lies below those that systems hand out by themselves (49152 and up by RFC 6335, 32768 and
/// up on Linux), so that no other test's connection takes it between the looking and the opening.
/// </summary>
public static class FreePort
{
    private const int First = 20_000;
    private const int End = 32_000;

    /// <summary>Finds one on every address of this machine.</summary>
    public static int Find(ProtocolType protocol)
    {
        while (true)
        {
            if (Random.Shared.Next(First, End) is var port && IsFree(port, protocol))
                return port;
        }
    }

    /// <summary>Finds the lower of two UDP ports side by side.</summary>
    public static int FindPair()
    {
        while (true)
        {
            if (Find(ProtocolType.Udp) is var port && IsFree(port + 1, ProtocolType.Udp))
                return port;
        }
    }

    private static bool IsFree(int port, ProtocolType protocol)
    {
        using var socket = new Socket(AddressFamily.InterNetwork, protocol == ProtocolType.Udp ? SocketType.Dgram : SocketType.Stream, protocol);
        try
        {
            socket.Bind(new IPEndPoint(IPAddress.Any, port));
            return true;
        }
        catch (SocketException)
        {
            // Taken; the next throw of the dice finds another.
            return false;
        }
    }
}
