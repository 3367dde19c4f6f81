using System.Net.Sockets;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>What goes wrong with connections, in the words of the page.</summary>
internal static class StreamFaults
{
    /// <summary>The end of a sentence.</summary>
    public static string Text(SocketError error) => error switch
    {
        SocketError.ConnectionRefused => "nobody listens there.",
        SocketError.ConnectionReset or SocketError.Shutdown => "the desk broke it off.",
        SocketError.HostUnreachable or SocketError.NetworkUnreachable => "there is no way there.",
        SocketError.TimedOut or SocketError.OperationAborted => "no answer.",
        _ => new SocketException((int)error).Message,
    };
}
