using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.AspNetCore.Connections;
using TrimAssist.Service.Security;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>However many connections are opened, from the network or on this machine, whoever may ask gets in and stays in.</summary>
public sealed class ConnectionBoundsTests : IDisposable
{
    private readonly ConnectionBounds _bounds = new();
    private readonly List<Caller> _all = [];

    public void Dispose() => _all.ForEach(one => one.Abort(new ConnectionAbortedException()));

    [Fact]
    public void One_address_holds_only_its_share_and_takes_nothing_from_another()
    {
        var other = Open("192.0.2.8");
        var flood = Open("192.0.2.7", ConnectionBounds.PerAddress + 20);

        Assert.Equal(ConnectionBounds.PerAddress, flood.Count(one => one.IsOpen));
        Assert.True(other.IsOpen);
        Assert.All(flood.Take(20), one => Assert.False(one.IsOpen));
    }

    [Fact]
    public void A_paired_device_gets_in_through_a_flood_from_everywhere_and_stays()
    {
        var flood = Flood();
        var engineer = Open("198.51.100.1");
        engineer.Prove(Guid.NewGuid());
        var more = Flood();

        Assert.True(engineer.IsOpen);
        Assert.Equal(ConnectionBounds.Unknown, flood.Concat(more).Count(one => one.IsOpen));
    }

    [Fact]
    public void A_paired_device_gets_in_from_the_very_address_that_floods()
    {
        Open("192.0.2.7", 3 * ConnectionBounds.PerAddress);
        var engineer = Open("192.0.2.7");
        engineer.Prove(Guid.NewGuid());
        Open("192.0.2.7", 3 * ConnectionBounds.PerAddress);

        Assert.True(engineer.IsOpen);
    }

    [Fact]
    public void One_credential_cannot_keep_every_connection()
    {
        var guest = Guid.NewGuid();
        foreach (var one in Enumerable.Range(0, 6).SelectMany(last => Open(Address(last), ConnectionBounds.PerCredential)))
            one.Prove(guest);
        var engineer = Open("198.51.100.1");
        engineer.Prove(Guid.NewGuid());
        Flood();

        Assert.True(engineer.IsOpen);
        Assert.Equal(ConnectionBounds.PerCredential, _all.Count(one => one.IsOpen && one.Seat!.Credential == guest));
    }

    [Fact]
    public void All_addresses_together_leave_this_machine_its_share()
    {
        Flood();
        var here = Open("127.0.0.1", ConnectionBounds.Here / 2).Concat(Open("::ffff:127.0.0.1", ConnectionBounds.Here / 2)).ToList();

        Assert.All(here, one => Assert.True(one.IsOpen));
        Assert.InRange(_all.Count(one => one.IsOpen), 0, ConnectionBounds.Most);
    }

    [Fact]
    public void A_program_on_this_machine_leaves_all_others_their_share_and_silent_connections_give_way()
    {
        var engineer = Open("127.0.0.1");
        engineer.Prove(null);
        var paired = Open("192.0.2.7");
        Open("127.0.0.1", 2 * ConnectionBounds.Here);

        Assert.True(engineer.IsOpen);
        Assert.True(paired.IsOpen);
        Assert.True(Open("127.0.0.1").IsOpen);
        Assert.True(Open("192.0.2.7").IsOpen);
    }

    [Fact]
    public async Task A_connection_that_ended_makes_room_again()
    {
        foreach (var one in Open("192.0.2.7", ConnectionBounds.PerAddress))
            one.Prove(Guid.NewGuid());
        Assert.False(Open("192.0.2.7").IsOpen);
        _all[0].Abort(new ConnectionAbortedException());
        await _all[0].Serving!;

        Assert.True(Open("192.0.2.7").IsOpen);
    }

    [Fact]
    public async Task Over_real_sockets_silent_connections_take_nothing_from_who_has_asked_and_let_newcomers_in()
    {
        await using var bench = await ServiceBench.StartAsync();
        var address = new Uri(bench.Service.Urls[0]);
        using var engineer = await ConnectAsync(address);
        Assert.Equal(200, await AskAsync(engineer, address));
        var silent = new List<TcpClient>();
        try
        {
            for (var i = 0; i < ConnectionBounds.Here + 20; i++)
                silent.Add(await ConnectAsync(address));
            using var newcomer = await ConnectAsync(address);

            Assert.Equal(200, await AskAsync(engineer, address));
            Assert.Equal(200, await AskAsync(newcomer, address));
        }
        finally
        {
            silent.ForEach(one => one.Dispose());
        }
    }

    private static async Task<TcpClient> ConnectAsync(Uri address)
    {
        var client = new TcpClient();
        await client.ConnectAsync(address.Host, address.Port);
        return client;
    }

    private static async Task<int> AskAsync(TcpClient client, Uri address)
    {
        var stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"GET /api/health HTTP/1.1\r\nHost: {address.Authority}\r\n\r\n"));
        using var reader = new StreamReader(stream, Encoding.ASCII, leaveOpen: true);
        var status = (await reader.ReadLineAsync())!;
        // The body is short and written in one piece with a known length or in chunks: both end before the next answer begins.
        while (await reader.ReadLineAsync() is { Length: > 0 })
        {
            // The head.
        }

        var size = int.Parse((await reader.ReadLineAsync())!, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        await reader.ReadBlockAsync(new char[size], 0, size);
        Assert.Equal(["", "0", ""], [await reader.ReadLineAsync(), await reader.ReadLineAsync(), await reader.ReadLineAsync()]);
        return int.Parse(status.Split(' ')[1], CultureInfo.InvariantCulture);
    }

    private List<Caller> Flood() => [.. Enumerable.Range(0, 2 * ConnectionBounds.Elsewhere).Select(number => Open(Address(number)))];

    private static string Address(int number) => string.Create(CultureInfo.InvariantCulture, $"2001:db8::{number + 1:x}");

    private List<Caller> Open(string address, int many) => [.. Enumerable.Range(0, many).Select(_ => Open(address))];

    private Caller Open(string address)
    {
        var caller = new Caller { RemoteEndPoint = new IPEndPoint(IPAddress.Parse(address), 40000) };
        caller.Serving = _bounds.AdmitAsync(caller, static connection => ((Caller)connection).Ended);
        _all.Add(caller);
        return caller;
    }

    private sealed class Caller : DefaultConnectionContext
    {
        private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task? Serving { get; set; }

        public Task Ended => _ended.Task;

        public bool IsOpen => !_ended.Task.IsCompleted;

        public ConnectionSeat? Seat => Features.Get<ConnectionSeat>();

        public void Prove(Guid? credential) => Seat!.Prove(credential);

        public override void Abort(ConnectionAbortedException abortReason) => _ended.TrySetResult();
    }
}
