using System.Net;
using Microsoft.AspNetCore.Connections;
using TrimAssist.Service.Security;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>However many connections the network opens, some are left for whoever sits at the machine.</summary>
public sealed class ConnectionBoundsTests : IDisposable
{
    private readonly ConnectionBounds _bounds = new();
    private readonly TaskCompletionSource _ends = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly List<(Task Serving, ConnectionContext Connection)> _all = [];
    private int _served;

    public void Dispose() => _ends.TrySetResult();

    [Fact]
    public void One_address_holds_only_its_share_and_another_still_gets_in()
    {
        Assert.Equal(ConnectionBounds.PerAddress, Open("192.0.2.7", ConnectionBounds.PerAddress + 20));
        Assert.Equal(1, Open("192.0.2.8", 1));
    }

    [Fact]
    public void All_addresses_together_leave_room_for_this_machine()
    {
        var elsewhere = Enumerable.Range(1, 20).Sum(last => Open($"2001:db8::{last}", 20));

        Assert.Equal(ConnectionBounds.Elsewhere, elsewhere);
        var here = ConnectionBounds.Most - ConnectionBounds.Elsewhere;
        Assert.Equal(here, Open("127.0.0.1", here / 2) + Open("::ffff:127.0.0.1", here / 2));
    }

    [Fact]
    public async Task A_connection_that_ended_makes_room_again()
    {
        Open("192.0.2.7", ConnectionBounds.PerAddress + 5);
        _ends.SetResult();
        await Task.WhenAll(_all.Select(one => one.Serving));

        Assert.Equal(ConnectionBounds.PerAddress, Open("192.0.2.7", ConnectionBounds.PerAddress));
    }

    private int Open(string address, int many)
    {
        var before = _served;
        for (var i = 0; i < many; i++)
        {
            var connection = new DefaultConnectionContext { RemoteEndPoint = new IPEndPoint(IPAddress.Parse(address), 40000 + i) };
            _all.Add((_bounds.AdmitAsync(connection, Serve), connection));
        }

        return _served - before;
    }

    private Task Serve(ConnectionContext connection)
    {
        _served++;
        return _ends.Task;
    }
}
