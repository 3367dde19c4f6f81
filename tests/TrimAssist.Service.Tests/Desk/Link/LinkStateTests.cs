using TrimAssist.Core.Desks;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>The link tells the truth: its states, its counts, and who is heard at all.</summary>
public sealed class LinkStateTests
{
    private const string Hello = """
        [[subscription]]
        address = "/t/hello"
        arguments = ["levels", 50]
        renew_s = 2.0
        """;

    [Fact]
    public void Meters_make_a_link_live_their_end_makes_it_stale_and_silence_lost()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        Assert.Equal(LinkState.Connecting, bench.Session.Link);
        bench.Play(0.3);
        bench.Pass(0.6);
        Assert.Equal("The meters stopped.", bench.Session.LinkReason);
        bench.Pass(5);
        Assert.Equal("The desk is silent.", bench.Session.LinkReason);
        bench.Play(0.3);
        Assert.Equal([LinkState.Live, LinkState.Stale, LinkState.Lost, LinkState.Live], bench.Sink.Links);
    }

    [Fact]
    public void A_desk_that_answers_but_sends_no_meters_is_lost_for_that_reason()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Play(0.3);
        bench.Pass(6, () => bench.Say("/t/1/gain", OscArgument.Of(20f)));
        Assert.Equal((LinkState.Lost, "The desk answers but sends no meters."), (bench.Session.Link, bench.Session.LinkReason));
    }

    [Fact]
    public void A_subscription_is_renewed_before_it_lapses_and_knocked_for_while_nothing_comes()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, Hello);
        Assert.Equal([new OscMessage("/t/hello", OscArgument.Of("levels"), OscArgument.Of(50))], bench.Desk.HeardAt("/t/hello"));
        bench.Pass(3.05);
        Assert.Equal(4, bench.Desk.HeardAt("/t/hello").Count);
        bench.Play(0.1);
        bench.Desk.Heard.Clear();
        bench.Play(6.1);
        Assert.Equal(3, bench.Desk.HeardAt("/t/hello").Count);
    }

    [Fact]
    public void A_link_whose_datagrams_never_pause_is_kept_up_and_its_end_is_seen()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim, Hello);
        bench.Play(0.1);
        bench.Desk.Heard.Clear();
        var desk = bench.Desk.EndPoint.Serialize();
        for (var turn = 0; turn < 6100; turn++)
        {
            bench.Time.Advance(TimeSpan.FromMilliseconds(1));
            var word = turn % 50 == 0 ? new OscMessage("/t/1/top", OscArgument.Of(-20f - (turn % 7))) : new OscMessage("/t/1/gain", OscArgument.Of(20f));
            bench.Session.Receive(word.Encode(), desk);
            bench.Session.TickWhenDue();
        }

        bench.Turn();
        Assert.Equal((3, LinkState.Live), (bench.Desk.HeardAt("/t/hello").Count, bench.Session.Link));
        for (var turn = 0; turn < 150; turn++)
        {
            bench.Time.Advance(TimeSpan.FromMilliseconds(5));
            bench.Session.TickWhenDue();
        }

        Assert.Equal(LinkState.Stale, bench.Session.Link);
    }

    [Fact]
    public void Who_is_not_let_in_is_counted_and_not_heard()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        using var stranger = new ForeignDesk("127.0.0.2");
        stranger.Service = bench.Desk.Service;
        for (var i = 0; i < 30; i++)
            stranger.Say(new OscMessage("/t/1/top", OscArgument.Of(-3f)));
        bench.Turn();
        Assert.Equal((30, 0), (bench.Session.Counters.Dropped, bench.Session.Counters.FramesHeard));
        Assert.Equal(LinkState.Connecting, bench.Session.Link);
        Assert.Contains("127.0.0.2", Assert.Single(bench.Sink.Notes).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_flood_from_elsewhere_is_counted_noted_at_a_limited_rate_and_drowns_no_meter()
    {
        const int EveryFrame = 2500;
        using var bench = new SessionBench(LinkProfiles.Peaks);
        using var stranger = new ForeignDesk("127.0.0.2");
        stranger.Service = bench.Desk.Service;
        var packet = new OscMessage("/t/1/top", OscArgument.Of(-1f)).Encode();
        bench.Pass(1, () =>
        {
            // 50,000 datagrams a second by the session's clock; in portions, because here the loop takes its turn only when the test lets it.
            for (var sent = 0; sent < EveryFrame; sent++)
            {
                stranger.Say(packet);
                if (sent % 100 == 0)
                    bench.Turn();
            }

            bench.SayPeaks();
        });
        Assert.Equal((20 * EveryFrame, 20), (bench.Session.Counters.Dropped, bench.Session.Counters.FramesHeard));
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.Dropped));
    }

    [Theory]
    [InlineData("")]
    [InlineData("2F")]
    [InlineData("00000000")]
    [InlineData("2F742F312F746F7000000000")]
    [InlineData("2F742F312F746F70000000002C7300006162630000000000")]
    [InlineData("2F742F312F746F70000000002C6600007FC00000")]
    [InlineData("23627562646C6500")]
    public void What_is_no_meter_value_is_counted_and_the_next_frame_is_heard(string bytes)
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        bench.Desk.Say(Convert.FromHexString(bytes));
        bench.SayPeak(1, -12);
        bench.Turn();
        bench.Pass(0.1);
        Assert.Equal(1, bench.Session.Counters.Malformed);
        Assert.Equal(-12, Assert.Single(bench.Sink.Readings).PeakDbfs);
    }

    [Fact]
    public void A_message_under_an_address_that_nobody_knows_is_counted_apart()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        bench.Say("/t/9/top", OscArgument.Of(-3f));
        bench.Say("/elsewhere", OscArgument.Of(1));
        Assert.Equal((0, 2), (bench.Session.Counters.Malformed, bench.Session.Counters.Unmatched));
    }

    [Fact]
    public void Lost_frames_are_counted_by_their_gaps()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        var frame = 0;
        bench.Pass(5, () =>
        {
            if (frame++ % 10 is not (3 or 4))
                bench.SayPeaks();
        });
        Assert.Equal(20, bench.Session.Counters.FramesLost);
    }

    [Fact]
    public void A_doubled_datagram_is_heard_once()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        var level = 0f;
        bench.Pass(1, () =>
        {
            level -= 0.5f;
            bench.SayPeak(1, level);
            bench.SayPeak(1, level);
        });
        Assert.Equal((20, 20), (bench.Session.Counters.FramesHeard, bench.Session.Counters.Duplicates));
        Assert.Equal(20, bench.Sink.Readings.Select(reading => reading.TimeS).Distinct().Count());
    }

    [Fact]
    public void Time_never_runs_backwards_when_datagrams_change_places()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        var held = -30f;
        bench.Pass(4, () =>
        {
            var level = -10f - (bench.Sink.Readings.Count % 7);
            bench.SayPeak(1, level);
            bench.SayPeak(1, held);
            held = level - 0.25f;
        });
        Assert.Equal(bench.Sink.Readings.Select(reading => reading.TimeS).Order(), bench.Sink.Readings.Select(reading => reading.TimeS));
    }

    [Fact]
    public void With_sane_time_tags_a_late_bundle_is_dropped_and_times_are_the_desks()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        var origin = new DateTimeOffset(2019, 3, 4, 5, 6, 7, TimeSpan.Zero);
        var frame = 0;
        void Send(int number) => bench.Desk.Say(Bundle(origin + (number * SessionBench.Frame), number));
        bench.Pass(3, () => Send(frame++));
        var heard = bench.Sink.Readings.Count;
        Send(frame - 5);
        bench.Turn();
        bench.Pass(0.1);
        Assert.Equal(heard, bench.Sink.Readings.Count);
        Assert.Equal(1, bench.Session.Counters.Duplicates);
        Assert.Equal(0, bench.Sink.Count(DeskNoteKind.TimeTags));
    }

    [Fact]
    public void A_clock_that_jumps_is_noted_once_and_its_tags_are_not_leaned_on()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks);
        var frame = 0;
        bench.Pass(3, () =>
        {
            var tag = new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero).AddHours(frame * 7919 % 100);
            bench.Desk.Say(Bundle(tag, frame++));
        });
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.TimeTags));
        Assert.Equal(60, bench.Session.Counters.FramesHeard);
        Assert.InRange(bench.Sink.Readings[^1].TimeS, 2.8, 3.1);
    }

    private static byte[] Bundle(DateTimeOffset at, int frame)
    {
        var bytes = new byte[256];
        var writer = new OscWriter(bytes);
        writer.BeginBundle(OscTimeTag.From(at));
        new OscMessage("/t/1/top", OscArgument.Of(-20f - (frame % 7))).WriteTo(ref writer);
        writer.EndBundle();
        Assert.True(writer.TryFinish(out var length));
        return bytes[..length];
    }
}
