using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Network;

/// <summary>Finds the addresses behind the names in a profile.</summary>
internal static class HostLookup
{
    /// <summary>The first address of a host, with its port.</summary>
    /// <exception cref="DeskConnectException">The name cannot be found.</exception>
    public static IPEndPoint EndPoint(HostAndPort where) => new(Addresses(where.Host)[0], where.Port);

    /// <summary>Who may speak: those that the profile lets in, else the desk's engines.</summary>
    /// <exception cref="DeskConnectException">A name cannot be found.</exception>
    public static SourceFilter Filter(ConnectionProfile connection, IEnumerable<IPEndPoint> engines) =>
        new(connection.AcceptFrom.Count > 0 ? connection.AcceptFrom.SelectMany(Addresses) : engines.Select(engine => engine.Address));

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
}
