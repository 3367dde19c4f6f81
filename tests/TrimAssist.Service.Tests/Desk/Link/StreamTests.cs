using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Desks;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Desks over TCP, framed by length (OSC 1.0) or by SLIP (OSC 1.1), and all that may happen to a connection.</summary>
public sealed class StreamTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Meters_and_values_come_over_a_stream(bool slip)
    {
        using var bench = new StreamBench(slip);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(30f)));
        bench.TurnUntil(() => bench.Desk.HasService);
        bench.Play(1);
        bench.TurnUntil(() => bench.Session.Settings(4).Trim is not null);
        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.All(bench.Desk.Heard, message => Assert.Empty(message.Arguments));
        Assert.Equal(0, bench.Session.Counters.Malformed);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Frames_cut_anywhere_are_put_together(bool slip)
    {
        using var bench = new StreamBench(slip);
        bench.TurnUntil(() => bench.Desk.HasService);
        var packet = new OscMessage("/t/1/top", OscArgument.Of(-12f)).Encode();
        var frame = new byte[64];
        Assert.True(slip
            ? Protocols.Osc.Framing.SlipFramer.TryWrite(packet, frame, out var length)
            : Protocols.Osc.Framing.LengthPrefixFramer.TryWrite(packet, frame, out length));
        for (var cut = 1; cut < length; cut++)
        {
            bench.Time.Advance(SessionBench.Frame);
            bench.Desk.SayRaw(frame.AsSpan(0, cut));
            bench.Turn();
            bench.Desk.SayRaw(frame.AsSpan(cut..length));
            bench.TurnUntil(() => bench.Session.Counters.Received == cut);
        }
    }

    [Fact]
    public void A_desk_that_is_not_there_yet_is_knocked_for_in_growing_waits_and_the_reason_says_so()
    {
        using var bench = new StreamBench(slip: false, deskIsOn: false);
        bench.Play(20);
        Assert.Contains("nobody listens there", bench.Session.LinkReason, StringComparison.Ordinal);
        Assert.Equal(LinkState.Connecting, bench.Session.Link);
        bench.Desk.TurnOn();
        bench.Play(7);
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        Assert.Equal(1, bench.Desk.Connections);
        Assert.Equal(0, bench.Sink.Count(DeskNoteKind.Restart));
        Assert.Equal(0, bench.Sink.Count(DeskNoteKind.SendFailed));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_connection_that_broke_is_made_again_and_everything_is_asked_again(bool slip)
    {
        using var bench = new StreamBench(slip);
        var gain = 30f;
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(gain)));
        bench.TurnUntil(() => bench.Desk.HasService);
        bench.Play(6);
        bench.Desk.TurnOff();
        bench.Play(6);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        gain = 0;
        bench.Desk.TurnOn();
        bench.Play(6);
        bench.TurnUntil(() => bench.Desk.Connections == 2);
        bench.Play(1);
        bench.TurnUntil(() => bench.Session.Settings(1).Trim is { Value: 0 });
        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.InRange(bench.Sink.Count(DeskNoteKind.Restart), 1, 2);
    }

    [Fact]
    public void While_the_desk_cannot_be_reached_its_backup_is_tried_in_turn()
    {
        using var second = new StreamDesk(slip: false);
        using var bench = new StreamBench(slip: false, deskIsOn: false, backup: second);
        for (var passed = 0.0; passed < 3; passed += 0.05)
        {
            bench.Play(0.05);
            second.Attend();
        }

        bench.TurnUntil(() => bench.Transport.Trouble is null);
        second.Attend();
        second.Say(new OscMessage("/t/1/top", OscArgument.Of(-12f)));
        bench.TurnUntil(() => bench.Session.Counters.FramesHeard == 1);
        second.Attend();
        Assert.Equal((1, 0, 4), (second.Connections, bench.Desk.Connections, second.Heard.Select(message => message.Address).Distinct().Count()));
    }

    [Fact]
    public void A_desk_that_hangs_up_at_once_is_not_hammered()
    {
        using var bench = new StreamBench(slip: false);
        for (var passed = 0.0; passed < 20; passed += 0.05)
        {
            bench.Play(0.05);
            bench.Desk.HangUp();
        }

        Assert.InRange(bench.Desk.Connections, 3, 8);
    }

    [Theory]
    [InlineData("7FFFFFFF")]
    [InlineData("80000000")]
    [InlineData("FFFFFFFF")]
    [InlineData("00010004")]
    public void A_size_that_cannot_be_is_counted_and_ends_the_connection_without_taking_memory(string size)
    {
        using var bench = new StreamBench(slip: false);
        bench.TurnUntil(() => bench.Desk.HasService);
        var before = GC.GetAllocatedBytesForCurrentThread();
        bench.Desk.SayRaw(Convert.FromHexString(size));
        bench.TurnUntil(() => bench.Session.Counters.Malformed == 1);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 1024 * 1024);
        Assert.Contains("made no sense", bench.Transport.Trouble, StringComparison.Ordinal);
        bench.Time.Advance(TimeSpan.FromSeconds(1));
        bench.TurnUntil(() => bench.Desk.Connections == 2 && bench.Transport.Trouble is null);
    }

    [Fact]
    public void A_connection_on_which_nothing_arrives_any_more_is_given_up_and_made_again()
    {
        using var bench = new StreamBench(slip: false);
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        bench.Play(2);
        for (var passed = 0.0; passed < 12; passed += 0.05)
        {
            // The desk's end stays open, and nobody is there: a pulled cable looks like this for a quarter of an hour.
            bench.Time.Advance(SessionBench.Frame);
            bench.Turn();
        }

        bench.TurnUntil(() => bench.Desk.Connections == 2);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        bench.Play(1);
        Assert.Equal(LinkState.Live, bench.Session.Link);
    }

    [Fact]
    public void A_connection_on_which_the_desk_still_answers_is_kept_though_no_meters_come()
    {
        using var bench = new StreamBench(slip: false);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(30f)));
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        for (var passed = 0.0; passed < 20; passed += 0.05)
        {
            bench.Time.Advance(SessionBench.Frame);
            bench.Turn();
        }

        Assert.Equal(1, bench.Desk.Connections);
    }

    [Fact]
    public void A_bad_slip_frame_is_counted_and_the_next_is_heard()
    {
        using var bench = new StreamBench(slip: true);
        bench.TurnUntil(() => bench.Desk.HasService);
        bench.Desk.SayRaw([0xC0, 0xDB, 0x01, 0x02, 0xC0]);
        bench.Desk.Say(new OscMessage("/t/1/top", OscArgument.Of(-12f)));
        bench.TurnUntil(() => bench.Session.Counters.FramesHeard == 1);
        Assert.Equal(1, bench.Session.Counters.Malformed);
    }

    [Fact]
    public void What_the_desk_does_not_take_in_is_bounded_and_nothing_of_it_is_sent_on_the_next_connection()
    {
        using var bench = new StreamBench(slip: false);
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        bench.Desk.Attend();
        var packet = new OscMessage("/t/flood", OscArgument.OfBlob(new byte[16_000])).Encode();
        string? fault = null;
        var sent = 0;
        while (sent < 100_000 && bench.Transport.TrySend(packet, out fault))
            sent++;
        Assert.Equal("The desk does not take in what is sent.", fault);

        bench.Desk.HangUp();
        bench.TurnUntil(() => bench.Transport.Trouble is not null);
        bench.Desk.Heard.Clear();
        bench.Time.Advance(TimeSpan.FromSeconds(1));
        bench.TurnUntil(() => bench.Desk.Connections == 2 && bench.Desk.Heard.Count > 0);
        bench.Play(1);
        Assert.DoesNotContain(bench.Desk.Heard, message => string.Equals(message.Address, "/t/flood", StringComparison.Ordinal));
    }

    [Fact]
    public void A_desk_may_bring_its_meters_over_a_connection_of_its_own()
    {
        using var bench = new StreamBench(slip: false, listens: true);
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        using var first = Dial(bench, "127.0.0.1");
        bench.Time.Advance(SessionBench.Frame);
        first.Send(Framed(-12f));
        bench.TurnUntil(() => bench.Session.Counters.FramesHeard == 1);

        // A desk that was switched off and on again dials anew; the connection before is as good as gone.
        using var second = Dial(bench, "127.0.0.1");
        bench.Time.Advance(SessionBench.Frame);
        second.Send(Framed(-13f));
        bench.TurnUntil(() => bench.Session.Counters.FramesHeard == 2);
        second.Send([0x7F, 0xFF, 0xFF, 0xFF]);
        bench.TurnUntil(() => bench.Session.Counters.Malformed == 1);
        Assert.Null(bench.Transport.Trouble);
    }

    [Fact]
    public void Who_dials_in_and_is_not_let_in_is_counted_and_hung_up_on()
    {
        using var bench = new StreamBench(slip: false, listens: true);
        bench.TurnUntil(() => bench.Desk.HasService && bench.Transport.Trouble is null);
        using var stranger = Dial(bench, "127.0.0.2");
        stranger.Send(Framed(-1f));
        bench.TurnUntil(() => bench.Session.Counters.Dropped == 1);
        bench.Turn();
        Assert.Equal(0, bench.Session.Counters.FramesHeard);
    }

    private static Socket Dial(StreamBench bench, string from)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        socket.Bind(new IPEndPoint(IPAddress.Parse(from), 0));
        socket.Connect(bench.LocalEndPoint);
        return socket;
    }

    private static byte[] Framed(float level)
    {
        var packet = new OscMessage("/t/1/top", OscArgument.Of(level)).Encode();
        return [0, 0, 0, (byte)packet.Length, .. packet];
    }
}
