using TrimAssist.Core.Checks;
using Xunit;

namespace TrimAssist.Core.Tests.Checks;

/// <summary>Times of the day, whatever clock and machine do.</summary>
public sealed class RehearsalScheduleTests
{
    private static readonly DateTimeOffset Day = new(2026, 7, 25, 0, 0, 0, TimeSpan.Zero);

    // An hour ahead of Greenwich, two from the last Sunday of March to that of October.
    private static readonly TimeZoneInfo Wall = TimeZoneInfo.CreateCustomTimeZone("wall", TimeSpan.FromHours(1), "wall", "wall", "wall in summer",
    [
        TimeZoneInfo.AdjustmentRule.CreateAdjustmentRule(
            DateTime.MinValue.Date, DateTime.MaxValue.Date, TimeSpan.FromHours(1),
            TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 3, 5, DayOfWeek.Sunday),
            TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 3, 0, 0), 10, 5, DayOfWeek.Sunday)),
    ]);

    [Fact]
    public void Each_time_comes_once_a_day_by_the_clock_on_the_wall()
    {
        Assert.Equal([Day.AddHours(16.5), Day.AddHours(22), Day.AddHours(40.5), Day.AddHours(46)], Times([new(18, 30), new(0, 0)], Day, days: 2));
        Assert.Empty(Times([], Day, days: 2));
    }

    [Fact]
    public void A_time_that_the_clock_leaps_over_in_spring_comes_when_it_has_leapt() =>
        Assert.Equal([new DateTimeOffset(2026, 3, 29, 1, 0, 0, TimeSpan.Zero)], Times([new(2, 30)], new(2026, 3, 29, 0, 0, 0, TimeSpan.Zero), days: 0.5));

    [Fact]
    public void A_machine_that_slept_over_a_time_lets_it_go_and_one_that_missed_it_by_seconds_does_not()
    {
        var schedule = new RehearsalSchedule([new(18, 30)], TimeZoneInfo.Utc);
        Assert.False(schedule.Pass(Day.AddHours(12)));
        Assert.False(schedule.Pass(Day.AddHours(20)));
        Assert.False(schedule.Pass(Day.AddHours(42).AddMinutes(29)));
        Assert.True(schedule.Pass(Day.AddHours(42).AddMinutes(30).AddSeconds(20)));
        // The clock is set back: what has come does not come again by that.
        Assert.False(schedule.Pass(Day.AddHours(42)));
    }

    private static List<DateTimeOffset> Times(TimeOnly[] at, DateTimeOffset from, double days)
    {
        var schedule = new RehearsalSchedule(at, Wall);
        List<DateTimeOffset> came = [];
        for (var now = from; now < from.AddDays(days); now = now.AddSeconds(30))
        {
            if (schedule.Pass(now))
                came.Add(now);
        }

        return came;
    }
}
