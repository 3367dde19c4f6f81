using System.Collections.Concurrent;
using System.Net;
using Microsoft.AspNetCore.Connections;

namespace TrimAssist.Service.Security;

/// <summary>
/// Keeps the network from taking every connection: one address holds only so many, and all others together leave some over for whoever sits
/// at this machine.
/// </summary>
internal sealed class ConnectionBounds
{
    /// <summary>How many connections there may be.</summary>
    public const int Most = 256;

    /// <summary>How many of them callers elsewhere may hold together.</summary>
    public const int Elsewhere = 192;

    /// <summary>How many of them one address elsewhere may hold.</summary>
    public const int PerAddress = 48;

    private readonly ConcurrentDictionary<IPAddress, int> _held = new();
    private int _elsewhere;

    /// <summary>Lets a connection in, or ends it before a byte is read.</summary>
    public async Task AdmitAsync(ConnectionContext connection, ConnectionDelegate next)
    {
        if (connection.RemoteEndPoint is not IPEndPoint { Address: var address } || IPAddress.IsLoopback(address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address))
        {
            await next(connection);
            return;
        }

        var held = _held.AddOrUpdate(address, 1, static (_, many) => many + 1);
        var elsewhere = Interlocked.Increment(ref _elsewhere);
        try
        {
            if (held > PerAddress || elsewhere > Elsewhere)
                connection.Abort(new ConnectionAbortedException("Too many connections."));
            else
                await next(connection);
        }
        finally
        {
            Interlocked.Decrement(ref _elsewhere);
            if (_held.AddOrUpdate(address, 0, static (_, many) => many - 1) == 0)
                _held.TryRemove(new(address, 0));
        }
    }
}
