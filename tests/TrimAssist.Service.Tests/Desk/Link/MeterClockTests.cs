using CsCheck;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class MeterClockTests
{
    [Fact]
    public void Even_frames_lose_nothing_and_jitter_is_smoothed()
    {
        var random = new Random(7);
        var bench = Start();
        var last = 0.0;
        for (var frame = 1; frame <= 400; frame++)
        {
            var at = (frame * 50) + random.Next(-18, 19);
            bench.Advance(at - last);
            last = at;
            bench.Tell("/lv/1", OscArgument.Of(-1f * frame));
        }

        Assert.Equal((0, 400), (bench.Session.Counters.FramesLost, bench.Readings.Count));
        var steps = bench.Readings.Skip(1).Zip(bench.Readings, (now, before) => now.TimeS - before.TimeS).ToArray();
        Assert.All(steps, step => Assert.InRange(step, 0.045, 0.056));
        Assert.Equal(400 * 0.05, bench.Readings[^1].TimeS, 0.03);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(40)]
    public void A_gap_counts_the_frames_that_are_missing(int missing)
    {
        var bench = Start();
        Send(bench, 10);
        bench.Advance(50 * missing);
        Send(bench, 10);

        Assert.Equal(missing, bench.Session.Counters.FramesLost);
    }

    [Fact]
    public void An_outage_is_no_loss_of_frames()
    {
        var bench = Start();
        Send(bench, 10);
        bench.Advance(60_000);
        Send(bench, 10);

        Assert.Equal(0, bench.Session.Counters.FramesLost);
        Assert.Equal(61, bench.Readings[^1].TimeS, 0.1);
    }

    [Fact]
    public void Frames_that_come_late_in_a_heap_are_not_lost_and_time_hardly_moves()
    {
        var bench = Start();
        Send(bench, 10);
        bench.Advance(150);
        for (var late = 0; late < 4; late++)
            bench.Tell("/lv/1", OscArgument.Of(-90f - late));
        var there = bench.Readings[^1].TimeS;
        Send(bench, 10);

        Assert.Equal(0, bench.Session.Counters.FramesLost);
        Assert.Equal(24, bench.Readings.Count);
        Assert.InRange(there, 0.6, 0.73);
    }

    [Fact]
    public void A_doubled_datagram_is_heard_once()
    {
        var bench = Start();
        for (var frame = 0; frame < 10; frame++)
        {
            bench.Advance(50);
            bench.Tell("/lv/1", OscArgument.Of(-50f));
            bench.Advance(1);
            bench.Tell("/lv/1", OscArgument.Of(-50f));
        }

        Assert.Equal((10, 10L, 0L), (bench.Readings.Count, bench.Session.Counters.Duplicates, bench.Session.Counters.FramesLost));
    }

    [Fact]
    public void Time_never_runs_backwards_whatever_arrives_when() =>
        Gen.Select(Gen.Int[0, 400], Gen.Float[-90, 0], Gen.Bool).List[1, 80].Sample(arrivals =>
        {
            var bench = Start();
            foreach (var (wait, level, tagged) in arrivals)
            {
                bench.Advance(wait);
                if (tagged)
                    bench.TellBytes(Tagged(1000 + (level * 0.01), level));
                else
                    bench.Tell("/lv/1", OscArgument.Of(level));
            }

            return bench.Readings.Zip(bench.Readings.Skip(1)).All(pair => pair.Second.TimeS >= pair.First.TimeS);
        }, iter: 300);

    [Fact]
    public void Sane_time_tags_take_the_jitter_out_and_drop_what_comes_out_of_order()
    {
        var bench = Start();
        for (var frame = 1; frame <= 60; frame++)
        {
            bench.Advance(50);
            bench.TellBytes(Tagged(5_000_000 + (frame * 0.05), -20 - (frame % 7)));
        }

        var heard = bench.Readings.Count;
        bench.TellBytes(Tagged(5_000_000 + (58 * 0.05), -3));
        bench.TellBytes(Tagged(5_000_000 + (60 * 0.05), -2));
        Assert.Equal(heard, bench.Readings.Count);
        Assert.Equal(2, bench.Session.Counters.Duplicates);
        Assert.Empty(bench.Notes);
    }

    [Fact]
    public void Time_tags_of_a_clock_that_jumps_are_ignored_with_one_note()
    {
        var bench = Start();
        for (var frame = 1; frame <= 60; frame++)
        {
            bench.Advance(50);
            bench.TellBytes(Tagged(5_000_000 + (frame * 40 % 77), -20 - (frame % 7)));
        }

        Assert.Equal(60, bench.Readings.Count);
        Assert.Equal(DeskNoteKind.TimeTags, Assert.Single(bench.Notes).Kind);
    }

    [Fact]
    public void A_rate_other_than_the_profiles_is_told_once()
    {
        var bench = Start();
        for (var frame = 0; frame < 1000; frame++)
        {
            bench.Advance(20);
            bench.Tell("/lv/1", OscArgument.Of(-1f * frame));
            bench.Session.Tick();
        }

        Assert.Equal(DeskNoteKind.MeterRate, Assert.Single(bench.Notes).Kind);
        Assert.Equal(50, bench.Session.Counters.FrameRate, 1.0);
    }

    private static void Send(Bench bench, int frames)
    {
        for (var frame = 0; frame < frames; frame++)
        {
            bench.Advance(50);
            bench.Tell("/lv/1", OscArgument.Of(-20f - frame));
        }
    }

    private static Bench Start()
    {
        var bench = new Bench(ProfileTexts.Least);
        bench.Session.Start();
        return bench;
    }

    private static byte[] Tagged(double seconds, double level)
    {
        var buffer = new byte[64];
        var writer = new OscWriter(buffer);
        writer.BeginBundle(new OscTimeTag((ulong)(seconds * 4294967296.0)));
        new OscMessage("/lv/1", OscArgument.Of((float)level)).WriteTo(ref writer);
        writer.EndBundle();
        Assert.True(writer.TryFinish(out var length));
        return buffer[..length];
    }
}
