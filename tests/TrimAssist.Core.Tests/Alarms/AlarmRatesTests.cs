using TrimAssist.Core.Alarms;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Alarms;

/// <summary>The measures of ISA-18.2 and IEC 62682 (flood: more than 10 in ten minutes begin it, fewer than 5 end it; chattering: three within a minute).</summary>
public sealed class AlarmRatesTests
{
    private readonly AlarmRates _rates = new();
    private TimeSpan _elapsed;

    [Theory]
    [InlineData(10, false)]
    [InlineData(11, true)]
    public void More_than_ten_in_ten_minutes_are_a_flood(int alarms, bool flood)
    {
        Count(alarms, TimeSpan.FromSeconds(50));

        Assert.Equal((flood, alarms), (Figures.Flood, Figures.LastTenMinutes));
    }

    [Theory]
    [InlineData(4, false)]
    [InlineData(5, true)]
    public void A_flood_is_over_when_fewer_than_five_came_in_ten_minutes(int left, bool flood)
    {
        Count(11, TimeSpan.Zero);
        _elapsed = TimeSpan.FromSeconds(1);
        Count(left, TimeSpan.FromSeconds(60));
        _elapsed = TimeSpan.FromMinutes(10);
        _rates.Look(_elapsed);

        Assert.Equal((flood, left), (Figures.Flood, Figures.LastTenMinutes));
    }

    [Theory]
    [InlineData(3, 29, 1)]
    [InlineData(2, 29, 0)]
    [InlineData(3, 30, 0)]
    public void Three_of_one_source_within_a_minute_chatter(int alarms, int apartS, long expected)
    {
        Count(alarms, TimeSpan.FromSeconds(apartS), input: 1);

        Assert.Equal(expected, Figures.Chattering);
    }

    [Fact]
    public void Time_in_flood_and_the_shares_add_up()
    {
        Count(11, TimeSpan.Zero, AlarmPriority.High);
        _elapsed = TimeSpan.FromMinutes(10);
        _rates.Look(_elapsed);
        Count(11, TimeSpan.FromMinutes(3), AlarmPriority.Low);
        _elapsed = TimeSpan.FromMinutes(100);
        _rates.Look(_elapsed);

        Assert.Equal((0.5, 0.0, 0.5), (Figures.HighShare!.Value, Figures.MediumShare!.Value, Figures.LowShare!.Value));
        Assert.Equal((22, 2.2, 0.1), (Figures.Alarms, Figures.PerTenMinutes, Figures.FloodShare));
        Assert.Equal(11, Figures.WorstTenMinutes);
    }

    [Fact]
    public void Only_the_last_day_is_remembered()
    {
        Count(3, TimeSpan.FromMinutes(1));
        _elapsed = TimeSpan.FromHours(2);
        _rates.Look(_elapsed);
        Assert.Equal((0, 0, 3), (Figures.LastTenMinutes, Figures.LastHour, Figures.LastDay));
        _elapsed = TimeSpan.FromHours(25);
        _rates.Look(_elapsed);

        Assert.Equal((0, 3), (Figures.LastDay, Figures.Alarms));
    }

    [Fact]
    public void Without_an_alarm_shares_are_absent_and_not_zero() => Assert.Null(Figures.HighShare);

    [Fact]
    public void An_active_alarm_of_more_than_a_day_is_stale()
    {
        var alarm = Make(AlarmPriority.Low, 1);
        _rates.Look(TimeSpan.FromDays(1));
        Assert.Equal(0, _rates.Figures([alarm]).Stale);
        _rates.Look(TimeSpan.FromDays(1.1));

        Assert.Equal(1, _rates.Figures([alarm, alarm with { State = AlarmState.Normal }]).Stale);
    }

    private AlarmFigures Figures => _rates.Figures([]);

    private void Count(int alarms, TimeSpan apart, AlarmPriority priority = AlarmPriority.Medium, int? input = null)
    {
        for (var i = 0; i < alarms; i++)
        {
            _rates.Count(Make(priority, input ?? (i % 24) + 1));
            _elapsed += apart;
        }
    }

    private Alarm Make(AlarmPriority priority, int input) => new()
    {
        Id = Guid.NewGuid(),
        GroupId = Guid.NewGuid(),
        Desk = "bench",
        Input = input,
        Kind = AlarmKind.Overload,
        Priority = priority,
        At = new Moment(_elapsed, DateTimeOffset.UnixEpoch + _elapsed),
        Text = Saying.Plain(""),
    };
}
