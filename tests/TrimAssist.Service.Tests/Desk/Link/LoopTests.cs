using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class LoopTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    [Fact]
    public async Task Over_real_datagrams_meters_arrive_and_a_confirmed_change_is_read_back()
    {
        using var desk = new PlainDesk();
        var sink = new WaitingSink();
        await using var loop = new DeskLoop(ProfileTexts.Read(desk.Profile), sink, TimeProvider.System, static () => { });
        loop.Start();
        await sink.Live.Task.WaitAsync(Patience);
        await sink.Known.Task.WaitAsync(Patience);
        desk.Received.Clear();

        var writer = new DeskWriter(loop.Session);
        var outcome = await loop.RunAsync(() => writer.ApplyAsync(Bench.Trim(10, 14, 1), CancellationToken.None)).WaitAsync(Patience);

        Assert.Equal(WriteResult.Applied, outcome.Result);
        Assert.True(loop.ReceiveBuffer > 0);
        Assert.Single(desk.Received, m => m.Arguments.Count > 0 && m.Address is "/in/1/trim");
    }

    [Fact]
    public async Task An_empty_datagram_and_a_fault_in_the_listener_do_not_end_the_hearing()
    {
        using var desk = new PlainDesk();
        var sink = new WaitingSink { Throws = true };
        await using var loop = new DeskLoop(ProfileTexts.Read(desk.Profile), sink, TimeProvider.System, static () => { });
        loop.Start();
        await sink.Threw.Task.WaitAsync(Patience);
        desk.SendEmptyTo(loop.LocalEndPoint);
        sink.Throws = false;

        await sink.Heard.Task.WaitAsync(Patience);
        await sink.Fault.Task.WaitAsync(Patience);
    }

    [Fact]
    public async Task Waits_continue_on_the_loops_own_thread()
    {
        using var desk = new PlainDesk();
        await using var loop = new DeskLoop(ProfileTexts.Read(desk.Profile), new WaitingSink(), TimeProvider.System, static () => { });
        loop.Start();

        var (before, after) = await loop.RunAsync(async () =>
        {
            var first = Environment.CurrentManagedThreadId;
            await Task.Yield();
            await loop.Session.ReadAsync([1], Core.Proposals.ProposalKind.Trim, TimeSpan.FromMilliseconds(50));
            return (first, Environment.CurrentManagedThreadId);
        }).WaitAsync(Patience);

        Assert.Equal(before, after);
    }

    [Fact]
    public void A_port_in_use_is_a_sentence()
    {
        using var taken = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        var profile = ProfileTexts.Read(ProfileTexts.Least.Replace("desk = \"127.0.0.1:9000\"", $"desk = \"127.0.0.1:9000\"\nlisten = \"{taken.LocalEndPoint}\"", StringComparison.Ordinal));

        var refused = Assert.Throws<DeskConnectException>(() => new DeskLoop(profile, new WaitingSink(), TimeProvider.System, static () => { }));
        Assert.Contains("in use", refused.Message, StringComparison.Ordinal);
        Assert.Contains($"{taken.LocalEndPoint}", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stopping_ends_what_still_waits()
    {
        using var desk = new PlainDesk();
        var loop = new DeskLoop(ProfileTexts.Read(desk.Profile), new WaitingSink(), TimeProvider.System, static () => { });
        loop.Start();
        var waiting = loop.RunAsync(() => loop.Session.ReadAsync([4], Core.Proposals.ProposalKind.Pad, TimeSpan.FromHours(1)));
        await loop.RunAsync(() => Task.FromResult(0)).WaitAsync(Patience);
        await loop.DisposeAsync();

        Assert.False(await waiting.WaitAsync(Patience));
    }

    private sealed class WaitingSink : IDeskSink
    {
        public TaskCompletionSource Live { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource Known { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource Heard { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource Threw { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource Fault { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public volatile bool Throws;

        public void OnReading(in MeterReading reading)
        {
            if (!Throws)
            {
                Heard.TrySetResult();
                return;
            }

            Threw.TrySetResult();
            throw new InvalidOperationException("the listener is broken");
        }

        public void OnSettings(InputSettings before, InputSettings now)
        {
            if (now is { Input: 1, Trim: not null })
                Known.TrySetResult();
        }

        public void OnLink(LinkState state, string reason)
        {
            if (state == LinkState.Live)
                Live.TrySetResult();
        }

        public void OnDeskNote(DeskNote note)
        {
            if (note.Kind == DeskNoteKind.Fault)
                Fault.TrySetResult();
        }
    }
}
