using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using TrimAssist.Service.Loops;
using Xunit;

namespace TrimAssist.Service.Tests.Loops;

public sealed class LevelHistoryTests
{
    private readonly LevelHistory _history = new(inputs: 2);

    [Fact]
    public void A_second_keeps_its_highest_peak_and_a_second_without_readings_stays_unknown()
    {
        Keep(1, 10.1, -30);
        Keep(1, 10.9, -12);
        Keep(1, 12.0, -20);
        Assert.Equal([-12, null, -20], _history.Read(1, 10, 12, 100).Select(column => column.PeakDbfs));
        Assert.All(_history.Read(2, 10, 12, 100), column => Assert.Null(column.PeakDbfs));
    }

    [Fact]
    public void Digital_silence_is_nothing_to_draw_and_a_missing_rms_is_unknown()
    {
        _history.Keep(new MeterReading(1, 0, float.NegativeInfinity, float.NaN), 5);
        Assert.Equal((null, null), (_history.Read(1, 5, 5, 10)[0].PeakDbfs, _history.Read(1, 5, 5, 10)[0].RmsDbfs));
    }

    [Fact]
    public void Fewer_columns_than_seconds_keep_the_highest_peak_of_each()
    {
        for (var second = 0; second < 100; second++)
            Keep(1, second, second == 57 ? -3 : -40);
        var columns = _history.Read(1, 0, 99, 10);
        Assert.Equal(10, columns.Count);
        Assert.Equal(-3, columns.Single(column => column.AtS == 50).PeakDbfs);
        Assert.Equal(9, columns.Count(column => column.PeakDbfs == -40));
    }

    [Fact]
    public void What_is_older_than_two_hours_is_gone_and_never_mistaken_for_now()
    {
        Keep(1, 100, -6);
        Keep(1, 100 + LevelHistory.Seconds, -50);
        Assert.Null(_history.Read(1, 100, 100, 1)[0].PeakDbfs);
        Assert.Equal(-50, _history.Read(1, 100 + LevelHistory.Seconds, 100 + LevelHistory.Seconds, 1)[0].PeakDbfs);
        Assert.Null(_history.Read(1, 101 + LevelHistory.Seconds, 101 + LevelHistory.Seconds, 1)[0].PeakDbfs);
    }

    [Fact]
    public void A_gap_of_days_leaves_nothing_of_before()
    {
        Keep(1, 100, -6);
        Keep(1, 100 + (10 * LevelHistory.Seconds) + 7, -50);
        Assert.Single(_history.Read(1, 100 + (9 * LevelHistory.Seconds) + 8, 100 + (10 * LevelHistory.Seconds) + 7, LevelHistory.Seconds), column => column.PeakDbfs is not null);
    }

    [Fact]
    public void What_moved_is_marked_and_a_first_reading_moved_nothing()
    {
        var unknown = new InputSettings { Input = 1 };
        var first = unknown with { Trim = new Decibels(30), Muted = false };
        _history.Keep(unknown, first, 1);
        _history.Keep(first, first with { Trim = new Decibels(24), Muted = true }, 2);
        Assert.Equal([ProposalKind.Trim, ProposalKind.Mute], _history.Moved(1, 0, 10).Select(mark => mark.Kind));
        Assert.Equal((30.0, 24.0), (_history.Moved(1, 0, 10)[0].From.Db, _history.Moved(1, 0, 10)[0].To.Db));
        Assert.Empty(_history.Moved(1, 3, 10));
    }

    [Fact]
    public void Marks_are_bounded()
    {
        for (var at = 0; at < LevelHistory.Marks + 50; at++)
            _history.Keep(new InputSettings { Input = 1, PadOn = at % 2 == 0 }, new InputSettings { Input = 1, PadOn = at % 2 != 0 }, at);
        Assert.Equal(LevelHistory.Marks, _history.Moved(1, 0, double.MaxValue).Count);
    }

    [Fact]
    public void Keeping_a_reading_allocates_nothing()
    {
        Keep(1, 0, -20);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var frame = 0; frame < 1000; frame++)
            Keep(1, frame / 20.0, -20);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private void Keep(int input, double atS, float peak) => _history.Keep(new MeterReading(input, atS, peak, peak - 10), atS);
}
