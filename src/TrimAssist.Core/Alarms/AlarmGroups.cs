using TrimAssist.Core.Time;

namespace TrimAssist.Core.Alarms;

/// <summary>
/// Finds alarms that have one cause: the same kind on several inputs almost at once (one multicore pulled, eight inputs). They
/// share a group; every one of them is kept.
/// </summary>
public sealed class AlarmGroups
{
    /// <summary>An alarm this soon after the last of its group, on another input, has the same cause.</summary>
    public static readonly TimeSpan Within = TimeSpan.FromSeconds(1);

    private readonly Dictionary<AlarmKind, Group> _last = [];

    /// <summary>The group of a new alarm: its own id where it begins one.</summary>
    public Guid Of(Guid alarm, AlarmKind kind, int? input, Moment now)
    {
        if (input is { } number && _last.TryGetValue(kind, out var group) && now.Elapsed - group.At <= Within && group.Inputs.Add(number))
        {
            _last[kind] = group with { At = now.Elapsed };
            return group.Id;
        }

        _last[kind] = new Group(alarm, now.Elapsed, input is { } first ? [first] : []);
        return alarm;
    }

    private sealed record Group(Guid Id, TimeSpan At, HashSet<int> Inputs);
}
