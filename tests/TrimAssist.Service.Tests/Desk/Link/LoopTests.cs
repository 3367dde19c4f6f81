using System.Net.Sockets;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>The desk's own thread: nothing that goes wrong around it ends it.</summary>
public sealed class LoopTests : IAsyncDisposable
{
    private readonly ForeignDesk _desk = new();
    private readonly FakeTimeProvider _time = new();
    private readonly BrokenSink _sink = new();
    private readonly DeskLoop _loop;

    public LoopTests()
    {
        _loop = new DeskLoop(LinkProfiles.Udp(_desk.EndPoint, LinkProfiles.Peaks, LinkProfiles.Trim), _sink, _time, () => throw new InvalidOperationException("turn"));
        _desk.Service = _loop.LocalEndPoint!.Serialize();
        _loop.Start();
    }

    [Fact]
    public async Task Whoever_listens_may_fail_at_everything_and_the_desk_is_still_heard()
    {
        for (var frame = 1; frame <= 60; frame++)
        {
            _time.Advance(SessionBench.Frame);
            _desk.Say(new OscMessage("/t/1/top", OscArgument.Of(-20f - (frame % 5))));
            _desk.Say(new OscMessage("/t/1/gain", OscArgument.Of((float)frame)));
            await HeardAsync(2 * frame);
        }

        Assert.Equal(LinkState.Live, await _loop.RunAsync(() => Task.FromResult(_loop.Session.Link)));
        Assert.Equal(60, await _loop.RunAsync(() => Task.FromResult(_loop.Session.Settings(1).Trim!.Value.Value)));
        Assert.Equal(60, _sink.Readings);
    }

    [Fact]
    public async Task Empty_datagrams_do_not_deafen_it()
    {
        for (var i = 0; i < 20; i++)
            _desk.Say(ReadOnlySpan<byte>.Empty);
        _desk.Say(new OscMessage("/t/1/top", OscArgument.Of(-20f)));
        await HeardAsync(21);
        Assert.Equal(20, await _loop.RunAsync(() => Task.FromResult(_loop.Session.Counters.Malformed)));
    }

    [Fact]
    public async Task Work_that_fails_fails_for_whoever_asked()
    {
        await Assert.ThrowsAsync<NotSupportedException>(() => _loop.RunAsync<int>(() => throw new NotSupportedException()));
        Assert.Equal(7, await _loop.RunAsync(() => Task.FromResult(7)));
    }

    [Fact]
    public async Task Work_for_a_loop_that_has_ended_is_refused_and_waits_for_nobody()
    {
        await _loop.DisposeAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => _loop.RunAsync(() => Task.FromResult(7)));
    }

    [Fact]
    public void A_port_in_use_is_one_sentence()
    {
        using var other = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        other.Bind(new System.Net.IPEndPoint(System.Net.IPAddress.Loopback, 0));
        var profile = LinkProfiles.Of($"desk = \"127.0.0.1:9\"\nlisten = \"{other.LocalEndPoint}\"", LinkProfiles.Peaks);
        var refused = Assert.Throws<DeskConnectException>(() => new DeskLoop(profile, _sink, _time, () => { }));
        Assert.EndsWith("the port is in use by another program.", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_midi_port_that_is_not_there_is_one_sentence()
    {
        const string Midi = """
            id = "keys"
            inputs = 4
            [connection]
            transport = "midi"
            port = "a port that nobody has"
            [[meters]]
            poly_pressure = { channel = 1, note = "{input+35}" }
            quantity = "peak"
            range_db = [-60.0, 0.0]
            frame_ms = 50
            """;
        var profile = ProfileReader.Read(Midi, "keys.toml").Profile!;
        var refused = Assert.Throws<DeskConnectException>(() => new DeskLoop(profile, _sink, _time, () => { }));
        Assert.Contains("MIDI port", refused.Message, StringComparison.Ordinal);
        Assert.EndsWith(".", refused.Message, StringComparison.Ordinal);
    }

    public async ValueTask DisposeAsync()
    {
        await _loop.DisposeAsync();
        _desk.Dispose();
    }

    private async Task HeardAsync(long packets)
    {
        while (await _loop.RunAsync(() => Task.FromResult(_loop.Session.Counters.Received)) < packets)
            TestContext.Current.CancellationToken.ThrowIfCancellationRequested();
    }

    private sealed class BrokenSink : IDeskSink
    {
        public int Readings { get; private set; }

        public void OnReading(in MeterReading reading)
        {
            Readings++;
            throw new InvalidOperationException("reading");
        }

        public void OnSettings(InputSettings before, InputSettings now) => throw new InvalidOperationException("settings");

        public void OnLink(LinkState state, Saying reason) => throw new InvalidOperationException("link");

        public void OnDeskNote(DeskNote note) => throw new InvalidOperationException("note");
    }
}
