using TrimAssist.Core.Alarms;
using TrimAssist.Core.Time;

namespace TrimAssist.Service.Pages.Records;

/// <summary>The alarms that a desk's board remembers, and how many there were lately.</summary>
/// <param name="All">Every alarm remembered, newest first, but for those that later frames took back.</param>
/// <param name="LastTenMinutes">How many began in the last ten minutes.</param>
/// <param name="LastHour">How many began in the last hour.</param>
public sealed record AlarmRecord(IReadOnlyList<Alarm> All, int LastTenMinutes, int LastHour)
{
    /// <summary>More than this in ten minutes is a flood: ISA-18.2.</summary>
    public const int FloodAbove = 10;

    /// <summary>Nothing happened.</summary>
    public static AlarmRecord Empty { get; } = new([], 0, 0);

    /// <summary>The record as it stands at a moment. What was expected called for nobody, and is not counted.</summary>
    public static AlarmRecord Of(AlarmBoard board, Moment now)
    {
        var all = board.All.Where(alarm => alarm.State != AlarmState.Withdrawn).ToList();
        var told = all.Where(alarm => alarm.State != AlarmState.Suppressed).Select(alarm => now.Elapsed - alarm.At.Elapsed).ToList();
        return new(all, told.Count(age => age <= TimeSpan.FromMinutes(10)), told.Count(age => age <= TimeSpan.FromHours(1)));
    }
}
