namespace TrimAssist.Core.Alarms;

/// <summary>Alarms of one cause as they are shown: one line, however many inputs.</summary>
/// <param name="Id">The group's id: that of its first alarm.</param>
/// <param name="Alarms">Its alarms, oldest first.</param>
public sealed record ShownGroup(Guid Id, IReadOnlyList<Alarm> Alarms)
{
    /// <summary>The most urgent of them stands for all.</summary>
    public Alarm Lead { get; } = Alarms.MaxBy(alarm => (alarm.Priority, alarm.State == AlarmState.Unacknowledged, alarm.At.Elapsed))!;

    /// <summary>Groups alarms by cause and puts what is most urgent first: priority, then what nobody has seen, then the newest. Nothing is left out, in a flood either.</summary>
    public static IReadOnlyList<ShownGroup> Of(IEnumerable<Alarm> alarms) => [.. alarms
        .GroupBy(alarm => alarm.GroupId)
        .Select(group => new ShownGroup(group.Key, [.. group.OrderBy(alarm => alarm.At.Elapsed)]))
        .OrderByDescending(group => group.Lead.Priority)
        .ThenByDescending(group => group.Lead.State == AlarmState.Unacknowledged)
        .ThenByDescending(group => group.Lead.At.Elapsed)];
}
