using System.Net;
using System.Net.Sockets;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.DemoDesk;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Demo;

/// <summary>The demo desk as it is met on the wire.</summary>
public sealed class DemoDeskTests : IDisposable
{
    private readonly FakeTimeProvider _time = new();
    private readonly BuiltInDesk _desk;
    private readonly Socket _asker = Open();
    private readonly Socket _other = Open();

    public DemoDeskTests() => _desk = new BuiltInDesk(7, _time);

    public void Dispose()
    {
        _desk.Dispose();
        _asker.Dispose();
        _other.Dispose();
    }

    [Fact]
    public void A_query_is_answered_to_the_asker_alone_and_a_write_is_told_to_all()
    {
        Tell(_other, new OscMessage("/glow/join", OscArgument.Of("meters"), OscArgument.Of(50)));

        Tell(_asker, new OscMessage("/bank/03/lift"));
        Assert.Equal("/bank/03/lift", Assert.Single(Heard(_asker)).Address);
        Assert.Empty(Heard(_other));

        Tell(_asker, new OscMessage("/bank/03/lift", OscArgument.Of(17.4f)));
        Assert.All([_asker, _other], socket => Assert.Equal(17, Assert.Single(Heard(socket)).Arguments[0].Number));
    }

    [Fact]
    public void What_can_only_be_read_is_not_told_to_all_when_somebody_tries_to_write_it()
    {
        Tell(_other, new OscMessage("/glow/join", OscArgument.Of("meters"), OscArgument.Of(50)));

        Tell(_asker, new OscMessage("/bank/05/phantom", OscArgument.Of(0)));

        Assert.Equal(1, Assert.Single(Heard(_asker)).Arguments[0].Number);
        Assert.Empty(Heard(_other));
    }

    [Fact]
    public void A_new_act_is_told_of_a_few_inputs_a_frame_until_all_are_told()
    {
        Tell(_asker, new OscMessage("/glow/join", OscArgument.Of("meters"), OscArgument.Of(50)));
        while (_desk.Moment.Act == 0)
            _desk.Step();
        Heard(_asker);

        var most = 0;
        var labels = new List<OscMessage>();
        for (var frame = 0; frame < 12; frame++)
        {
            _desk.Step();
            var heard = Heard(_asker, out var datagrams);
            most = Math.Max(most, datagrams);
            labels.AddRange(heard.Where(message => message.Address.EndsWith("/who", StringComparison.Ordinal)));
        }

        Assert.InRange(most, 2, 6);
        Assert.Equal(24, labels.Select(message => message.Address).Distinct().Count());
        Assert.Equal(24, labels.Count);
    }

    [Fact]
    public async Task After_a_stall_the_desk_makes_up_for_half_a_second_and_lets_the_rest_go()
    {
        using var off = new CancellationTokenSource();
        var running = _desk.RunAsync(_time, off.Token);

        _time.Advance(TimeSpan.FromMinutes(10));
        await ReachesAsync(1);
        Assert.InRange(_desk.Frames, 1, 10);
        var after = _desk.Frames;
        for (var tick = 0; tick < 40; tick++)
        {
            _time.Advance(TimeSpan.FromMilliseconds(50));
            await ReachesAsync(after + 1 + tick);
        }

        Assert.Equal(after + 40, _desk.Frames);
        await off.CancelAsync();
        await running;
    }

    private async Task ReachesAsync(long frames)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (_desk.Frames < frames)
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(20), "The desk stands still.");
            await Task.Yield();
        }
    }

    private void Tell(Socket from, OscMessage message)
    {
        from.SendTo(message.Encode(), _desk.EndPoint);
        _desk.Answer();
    }

    private static Socket Open()
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return socket;
    }

    private static List<OscMessage> Heard(Socket socket) => Heard(socket, out _);

    private static List<OscMessage> Heard(Socket socket, out int datagrams)
    {
        var bytes = new byte[8192];
        var heard = new List<OscMessage>();
        for (datagrams = 0; socket.Available > 0; datagrams++)
        {
            var reader = new OscPacketReader(bytes.AsSpan(0, socket.Receive(bytes)));
            while (reader.TryReadMessage(out var message))
                heard.Add(OscMessage.From(message));
        }

        return heard;
    }
}
