using TrimAssist.Core.Alarms;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Contract;

namespace TrimAssist.Service.Report;

/// <summary>Counts an act's alarms by the measures that the running service counts by, from what the journal tells of them.</summary>
/// <param name="begunAt">When the act came on.</param>
internal sealed class ActAlarms(DateTimeOffset begunAt)
{
    private static readonly TimeSpan Step = TimeSpan.FromSeconds(10);

    /// <summary>Beyond ten minutes without a word of the journal no flood goes on.</summary>
    private const int StepsAtMost = 72;

    private readonly AlarmRates _rates = new();
    private TimeSpan _at;

    /// <summary>What was counted, up to the last moment told.</summary>
    public SheetAlarms ToSheet()
    {
        var figures = _rates.Figures([]);
        return new(figures.Alarms, figures.WorstTenMinutes, figures.FloodShare, figures.HighShare, figures.MediumShare, figures.LowShare, figures.Chattering);
    }

    /// <summary>A new alarm: one of a group counts, what a safe patch suppressed does not.</summary>
    public void Count(AlarmReply alarm)
    {
        Look(alarm.At);
        if (alarm.State == AlarmState.Suppressed || alarm.GroupId != alarm.Id)
            return;
        _rates.Count(new Alarm
        {
            Id = alarm.Id,
            GroupId = alarm.GroupId,
            Desk = alarm.Desk,
            Input = alarm.Input,
            Kind = alarm.Kind,
            Priority = alarm.Priority,
            At = new Moment(_at, alarm.At),
            Text = Saying.Plain(alarm.Text),
        });
    }

    /// <summary>The act went on at least until then.</summary>
    public void Look(DateTimeOffset at)
    {
        // The journal's times are a wall clock's, which may have been set back meanwhile.
        var elapsed = at - begunAt;
        // A flood ends between two words too.
        for (var step = 0; step < StepsAtMost && elapsed - _at > Step; step++)
        {
            _at += Step;
            _rates.Look(_at);
        }

        if (elapsed > _at)
            _at = elapsed;
        _rates.Look(_at);
    }
}
