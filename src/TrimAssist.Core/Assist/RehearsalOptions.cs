using TrimAssist.Core.Gate;

namespace TrimAssist.Core.Assist;

/// <summary>How a rehearsal room works: checks that begin and finish by themselves, and what the band may confirm.</summary>
public sealed record RehearsalOptions
{
    /// <summary>When a check begins by the clock on the wall, every day; besides the first sound after silence.</summary>
    public IReadOnlyList<TimeOnly> ChecksAt { get; init; } = [];

    /// <summary>The clock on the wall.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>How far a session may raise an input, in dB; never more than <see cref="RiseCeiling.MostDb"/>.</summary>
    public double MostRiseDb { get; init; } = RiseCeiling.MostDb;
}
