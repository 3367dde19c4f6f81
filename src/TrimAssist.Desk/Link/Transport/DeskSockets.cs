using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>Opens the kind of socket that a profile asks for.</summary>
internal static class DeskSockets
{
    /// <summary>Opens the socket.</summary>
    /// <exception cref="DeskConnectException">It cannot be had; the message is a sentence for the user.</exception>
    public static IDeskSocket Open(DeskProfile profile, TimeProvider time) => profile.Connection.Transport switch
    {
        DeskTransportKind.Udp => new UdpDeskSocket(profile.Connection),
        DeskTransportKind.Tcp => new TcpDeskSocket(profile.Connection, new ReconnectPace(Random.Shared.NextDouble), time),
        _ => MidiDeskSocket.Open(profile.Connection, time),
    };
}
