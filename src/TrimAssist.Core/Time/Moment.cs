namespace TrimAssist.Core.Time;

/// <summary>One instant on two clocks.</summary>
/// <param name="Elapsed">Time since the service began, by a clock that nobody sets: every wait and age is worked out on it.</param>
/// <param name="Utc">The same instant on the wall clock: for records and for people, never for arithmetic.</param>
public readonly record struct Moment(TimeSpan Elapsed, DateTimeOffset Utc)
{
    /// <summary>The instant <paramref name="wait"/> later on both clocks.</summary>
    public Moment After(TimeSpan wait) => new(Elapsed + wait, Utc + wait);
}
