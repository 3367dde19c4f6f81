namespace TrimAssist.Core.Checks;

/// <summary>Times of the day at which a check is due. Where the clock on the wall leaps over one, it is due at once; one missed by more than a minute is let go.</summary>
/// <remarks>One owner. Time is given.</remarks>
/// <param name="at">The times, by the clock on the wall.</param>
/// <param name="zone">That clock.</param>
public sealed class RehearsalSchedule(IReadOnlyList<TimeOnly> at, TimeZoneInfo zone)
{
    /// <summary>A machine that slept does not begin a check hours later.</summary>
    private static readonly TimeSpan LatestAfter = TimeSpan.FromMinutes(1);

    private DateTimeOffset? _last;

    /// <summary>Lets time pass, and says whether one of the times has come since the last call.</summary>
    public bool Pass(DateTimeOffset now)
    {
        var from = _last ?? now;
        _last = now;
        return now > from && at.Any(time => Came(time, now - from > LatestAfter ? now - LatestAfter : from, now));
    }

    private bool Came(TimeOnly time, DateTimeOffset from, DateTimeOffset now)
    {
        var local = OnTheWall(now);
        var latest = local.Date + time.ToTimeSpan();
        if (latest > local)
            latest = latest.AddDays(-1);
        return latest > OnTheWall(from);
    }

    private DateTime OnTheWall(DateTimeOffset moment) => TimeZoneInfo.ConvertTime(moment, zone).DateTime;
}
