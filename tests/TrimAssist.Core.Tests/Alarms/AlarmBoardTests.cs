using TrimAssist.Core.Alarms;
using TrimAssist.Core.Time;
using Xunit;

namespace TrimAssist.Core.Tests.Alarms;

/// <summary>The transitions of ISA-18.2 and IEC 62682.</summary>
public sealed class AlarmBoardTests
{
    private readonly List<Alarm> _told = [];
    private readonly AlarmBoard _board;
    private TimeSpan _elapsed;

    public AlarmBoardTests() => _board = new AlarmBoard("bench", Guid.NewGuid, _told.Add);

    private Moment Now => new(_elapsed, DateTimeOffset.UnixEpoch + _elapsed);

    [Fact]
    public void A_new_alarm_is_unacknowledged_and_told_at_once()
    {
        var alarm = _board.Raise(AlarmKind.Pop, 3, Now, 31);

        Assert.Equal([alarm], _told);
        Assert.Equal((AlarmState.Unacknowledged, AlarmPriority.High), (alarm.State, alarm.Priority));
    }

    [Fact]
    public void Acknowledged_then_over_is_normal()
    {
        var alarm = Raise();
        _board.Acknowledge(alarm);
        Assert.Equal(AlarmState.Acknowledged, State(alarm));
        End(alarm);

        Assert.Equal(AlarmState.Normal, State(alarm));
    }

    [Fact]
    public void Over_before_anybody_saw_it_is_returned_until_acknowledged()
    {
        var alarm = Raise();
        End(alarm);
        Assert.Equal(AlarmState.Returned, State(alarm));
        _board.Acknowledge(alarm);

        Assert.Equal(AlarmState.Normal, State(alarm));
    }

    [Fact]
    public void A_condition_must_stay_away_for_the_off_delay()
    {
        var alarm = Raise();
        _board.End(alarm, Now);
        Wait(AlarmRule.Of(AlarmKind.Overload).OffDelay - TimeSpan.FromMilliseconds(1));
        Assert.Equal(AlarmState.Unacknowledged, State(alarm));
        Wait(TimeSpan.FromMilliseconds(1));

        Assert.Equal(AlarmState.Returned, State(alarm));
    }

    [Fact]
    public void A_shelved_alarm_comes_back_by_itself()
    {
        var alarm = Raise();
        _board.Shelve(alarm, TimeSpan.FromMinutes(5), Now);
        Wait(TimeSpan.FromMinutes(5) - TimeSpan.FromSeconds(1));
        Assert.Equal(AlarmState.Shelved, State(alarm));
        Wait(TimeSpan.FromSeconds(1));

        Assert.Equal(AlarmState.Unacknowledged, State(alarm));
    }

    [Fact]
    public void Nothing_is_shelved_for_more_than_an_hour()
    {
        var alarm = Raise();
        _board.Shelve(alarm, TimeSpan.FromDays(1), Now);
        Wait(AlarmBoard.LongestShelving);

        Assert.Equal(AlarmState.Unacknowledged, State(alarm));
    }

    [Fact]
    public void A_condition_that_ended_on_the_shelf_is_returned_when_it_comes_back()
    {
        var alarm = Raise();
        _board.Shelve(alarm, TimeSpan.FromMinutes(1), Now);
        End(alarm);
        Wait(TimeSpan.FromMinutes(1));

        Assert.Equal(AlarmState.Returned, State(alarm));
    }

    [Fact]
    public void A_withdrawn_alarm_leaves_the_list()
    {
        var alarm = Raise();
        _board.Withdraw(alarm);
        _board.Acknowledge(alarm);

        Assert.Equal(AlarmState.Withdrawn, State(alarm));
        Assert.False(_board.Find(alarm)!.IsActive);
    }

    [Fact]
    public void A_refined_kind_brings_its_own_priority_and_text()
    {
        var alarm = _board.Raise(AlarmKind.Pop, 3, Now, 31).Id;
        _board.Refine(alarm, AlarmKind.Crackle, 22, Now);

        var refined = _board.Find(alarm)!;
        Assert.Equal((AlarmKind.Crackle, AlarmPriority.Medium, 22.0), (refined.Kind, refined.Priority, refined.SizeDb));
        Assert.Equal(AlarmRule.Of(AlarmKind.Crackle).Text, refined.Text);
    }

    [Fact]
    public void The_board_stays_bounded_and_keeps_what_is_active()
    {
        var first = Raise();
        for (var i = 0; i < AlarmBoard.Bound + 50; i++)
            _board.Withdraw(_board.Raise(AlarmKind.Pop, 3, Now).Id);

        Assert.Equal(AlarmBoard.Bound, _board.All.Count());
        Assert.NotNull(_board.Find(first));
    }

    [Fact]
    public void Every_kind_has_a_rule() =>
        Assert.All(Enum.GetValues<AlarmKind>(), kind => Assert.NotEmpty(AlarmRule.Of(kind).Text.ToString()));

    private Guid Raise() => _board.Raise(AlarmKind.Overload, 3, Now).Id;

    private void End(Guid alarm)
    {
        _board.End(alarm, Now);
        Wait(AlarmRule.Of(AlarmKind.Overload).OffDelay);
    }

    private void Wait(TimeSpan time)
    {
        _elapsed += time;
        _board.Tick(Now);
    }

    private AlarmState State(Guid alarm) => _board.Find(alarm)!.State;
}
