using TrimAssist.Core.Alarms;
using TrimAssist.Core.Time;
using Xunit;

namespace TrimAssist.Core.Tests.Alarms;

public sealed class AlarmGroupTests
{
    private readonly List<Alarm> _told = [];
    private readonly AlarmBoard _board;
    private TimeSpan _elapsed;

    public AlarmGroupTests() => _board = new AlarmBoard("bench", Guid.NewGuid, _told.Add);

    private Moment Now => new(_elapsed, DateTimeOffset.UnixEpoch + _elapsed);

    [Fact]
    public void One_cable_and_eight_inputs_are_eight_alarms_shown_as_one()
    {
        for (var input = 1; input <= 8; input++)
        {
            _board.Raise(AlarmKind.Pop, input, Now, 30);
            _elapsed += TimeSpan.FromMilliseconds(80);
        }

        Assert.Equal(8, _told.Count);
        var shown = Assert.Single(ShownGroup.Of(_board.All));
        Assert.Equal(Enumerable.Range(1, 8), shown.Alarms.Select(alarm => alarm.Input!.Value));
        Assert.Equal(1, _board.Figures.Alarms);
    }

    [Fact]
    public void The_same_input_again_or_another_kind_or_later_is_another_cause()
    {
        var first = _board.Raise(AlarmKind.Pop, 1, Now);
        Assert.NotEqual(first.GroupId, _board.Raise(AlarmKind.Dropout, 2, Now).GroupId);
        Assert.NotEqual(first.GroupId, _board.Raise(AlarmKind.Pop, 1, Now).GroupId);
        _elapsed += AlarmGroups.Within + TimeSpan.FromMilliseconds(1);
        Assert.NotEqual(first.GroupId, _board.Raise(AlarmKind.Pop, 3, Now).GroupId);
    }

    [Fact]
    public void In_a_flood_a_pop_is_told_at_once_and_stands_first_and_nothing_is_left_out()
    {
        for (var i = 0; i < 100; i++)
        {
            _board.Raise(AlarmKind.StepDown, 1 + (i % 24), Now);
            _elapsed += TimeSpan.FromSeconds(2);
        }

        Assert.True(_board.Figures.Flood);
        var pop = _board.Raise(AlarmKind.Pop, 3, Now, 31);

        Assert.Equal(pop, _told[^1]);
        Assert.Equal(pop, ShownGroup.Of(_board.All)[0].Lead);
        Assert.Equal(101, ShownGroup.Of(_board.All).Sum(group => group.Alarms.Count));
    }

    [Fact]
    public void Every_pop_is_an_alarm_of_its_own_however_close()
    {
        for (var i = 0; i < 5; i++)
            _board.Raise(AlarmKind.Pop, 1, Now, 20 + i);

        Assert.Equal(5, _told.Select(alarm => alarm.Id).Distinct().Count());
    }

    [Fact]
    public void A_condition_that_comes_back_within_its_off_delay_is_the_same_alarm()
    {
        var off = AlarmRule.Of(AlarmKind.Overload).OffDelay;
        var first = _board.Raise(AlarmKind.Overload, 1, Now, 3);
        _board.End(first.Id, Now);
        Wait(off - TimeSpan.FromMilliseconds(1));
        Assert.Equal(first.Id, _board.Raise(AlarmKind.Overload, 1, Now, 5).Id);
        Assert.Equal(5, _board.Find(first.Id)!.SizeDb);
        Wait(off);
        Assert.Equal(AlarmState.Unacknowledged, _board.Find(first.Id)!.State);
        _board.End(first.Id, Now);
        Wait(off);

        Assert.Equal(AlarmState.Returned, _board.Find(first.Id)!.State);
        Assert.NotEqual(first.Id, _board.Raise(AlarmKind.Overload, 1, Now).Id);
    }

    [Fact]
    public void A_condition_seen_again_stays_acknowledged_or_shelved()
    {
        var seen = _board.Raise(AlarmKind.Overload, 1, Now).Id;
        _board.Acknowledge(seen);
        _board.Raise(AlarmKind.Overload, 1, Now);
        var shelved = _board.Raise(AlarmKind.Crackle, 1, Now).Id;
        _board.Shelve(shelved, TimeSpan.FromMinutes(5), Now);
        _board.Raise(AlarmKind.Crackle, 1, Now);

        Assert.Equal((AlarmState.Acknowledged, AlarmState.Shelved, 2), (_board.Find(seen)!.State, _board.Find(shelved)!.State, _board.All.Count()));
    }

    private void Wait(TimeSpan time)
    {
        _elapsed += time;
        _board.Tick(Now);
    }
}
