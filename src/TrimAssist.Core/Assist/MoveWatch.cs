using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>Warns of a value that was set here and that somebody else has moved since: once for each change that was applied. Mutes are opened all the time.</summary>
internal sealed class MoveWatch(DeskDescription desk, AlarmBoard alarms, ProposalBook book)
{
    private readonly HashSet<Guid> _moved = [];

    /// <summary>Takes in that the desk said something new about an input.</summary>
    public void Hear(InputSettings before, InputSettings after, Moment now)
    {
        var tolerance = desk.Trim?.ToleranceDb ?? 0;
        foreach (var kind in (ReadOnlySpan<ProposalKind>)[ProposalKind.Trim, ProposalKind.Pad])
        {
            if (ControlValue.Of(before, kind) is not { } was || ControlValue.Of(after, kind) is not { } moved || moved.Matches(was, tolerance))
                continue;
            var last = book.All.FirstOrDefault(one => one.Kind == kind && one.Inputs.Contains(after.Input) && one.State is ProposalState.Confirmed or ProposalState.Applied or ProposalState.Unknown);
            if (last is { State: ProposalState.Applied } && was.Matches(last.To, tolerance) && _moved.Add(last.Id))
            {
                var alarm = alarms.Raise(AlarmKind.ValueMoved, after.Input, now, text: AlarmSayings.AlarmMovedFromTo(was.Said, moved.Said));
                alarms.End(alarm.Id, now);
            }
        }

        _moved.RemoveWhere(id => book.Find(id) is null);
    }
}
