using TrimAssist.Core.Alarms;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Pages.Records;

/// <summary>What a chart of one input shows.</summary>
/// <param name="FromS">Where it begins, in seconds since the service began.</param>
/// <param name="ToS">Where it ends.</param>
/// <param name="BeganAt">When the service began, on the wall clock of its machine.</param>
/// <param name="Levels">The levels, column by column.</param>
/// <param name="Moved">Trim, pad and mute changes.</param>
/// <param name="Alarms">The input's alarms.</param>
public sealed record LevelPicture(
    double FromS, double ToS, DateTimeOffset BeganAt, IReadOnlyList<LevelColumn> Levels, IReadOnlyList<SettingMark> Moved, IReadOnlyList<Alarm> Alarms)
{
    /// <summary>The time of day at a moment.</summary>
    public DateTimeOffset TimeOf(double atS) => BeganAt.AddSeconds(atS);
}
