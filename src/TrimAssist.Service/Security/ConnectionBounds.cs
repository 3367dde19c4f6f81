using System.Net;
using Microsoft.AspNetCore.Connections;

namespace TrimAssist.Service.Security;

/// <summary>
/// Keeps a flood of connections from locking anybody out. This machine and all others have a share each. Whoever is not known yet holds only a
/// part of the others' share, and a newcomer takes the place of the oldest unknown connection of whoever holds the most: so a paired
/// device gets in however many knock, and once it has shown its credential its connection is nobody else's to end.
/// </summary>
internal sealed class ConnectionBounds
{
    /// <summary>How many connections this machine may hold.</summary>
    public const int Here = 256;

    /// <summary>How many all others may hold together.</summary>
    public const int Elsewhere = 192;

    /// <summary>How many of those may have shown no credential.</summary>
    public const int Unknown = 96;

    /// <summary>How many of them one address may hold.</summary>
    public const int PerAddress = 48;

    /// <summary>How many connections of one credential are kept whatever comes; more may be ended like unknown ones.</summary>
    public const int PerCredential = 32;

    /// <summary>How many there may be for the web server, those that were ended and are still on their way out included.</summary>
    public const int Most = Here + Elsewhere + 64;

    private readonly Lock _guard = new();
    private readonly LinkedList<ConnectionSeat> _oldestFirst = new();

    /// <summary>Lets a connection in, or ends it before a byte is read.</summary>
    public async Task AdmitAsync(ConnectionContext connection, ConnectionDelegate next)
    {
        var seat = new ConnectionSeat(connection, Elsewheres(connection.RemoteEndPoint), this);
        LinkedListNode<ConnectionSeat>? place;
        ConnectionSeat? ended;
        lock (_guard)
            place = Take(seat, out ended);
        ended?.End("Another connection took its place.");
        if (place is null)
        {
            seat.End("Too many connections.");
            return;
        }

        try
        {
            connection.Features.Set(seat);
            await next(connection);
        }
        finally
        {
            lock (_guard)
                Leave(place);
        }
    }

    /// <summary>Takes in that a credential was shown over a connection.</summary>
    public void Prove(ConnectionSeat seat, Guid? credential)
    {
        lock (_guard)
        {
            if (credential is null || _oldestFirst.Count(one => one.Credential == credential) < PerCredential)
                seat.Keep(credential);
        }
    }

    private LinkedListNode<ConnectionSeat>? Take(ConnectionSeat seat, out ConnectionSeat? ended)
    {
        ended = null;
        if (IsFull(seat.From, out var rivals))
        {
            // Whoever holds the most gives way first, and of those the oldest.
            ended = rivals.GroupBy(one => one.From).MaxBy(group => group.Count())?.First();
            if (ended is null)
                return null;
            Leave(_oldestFirst.Find(ended)!);
        }

        return _oldestFirst.AddLast(seat);
    }

    private bool IsFull(IPAddress? from, out List<ConnectionSeat> rivals)
    {
        var unknown = _oldestFirst.Where(one => !one.IsProven && (one.From is null) == (from is null)).ToList();
        rivals = unknown;
        if (from is null)
            return _oldestFirst.Count(one => one.From is null) >= Here;
        if (_oldestFirst.Count(one => from.Equals(one.From)) >= PerAddress)
        {
            rivals = unknown.FindAll(one => from.Equals(one.From));
            return true;
        }

        return unknown.Count >= Unknown || _oldestFirst.Count(one => one.From is not null) >= Elsewhere;
    }

    private static void Leave(LinkedListNode<ConnectionSeat> place) => place.List?.Remove(place);

    private static IPAddress? Elsewheres(EndPoint? remote) => remote is IPEndPoint { Address: var address } && !IPAddress.IsLoopback(Plain(address)) ? Plain(address) : null;

    private static IPAddress Plain(IPAddress address) => address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
}
