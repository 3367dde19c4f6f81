using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>Proposes what amends another proposal: the way back from one that was applied, and the mute before one that would be heard.</summary>
internal sealed class AmendmentDesk(DeskDescription desk, ProposalBook book, ProposalDesk proposals, RoomRises? rises, Func<int, InputSettings> settings)
{
    /// <summary>Proposes the way back from a change that was applied.</summary>
    /// <param name="id">The proposal.</param>
    /// <param name="view">The desk's side, as it stands now.</param>
    /// <param name="mayRaise">Whether an increase may be proposed: never during a watch.</param>
    /// <param name="now">The present.</param>
    /// <returns>The proposal, or why there is none.</returns>
    public (WayBack Answer, Proposal? Proposal) Undo(Guid id, DeskView view, bool mayRaise, Moment now)
    {
        if (book.Find(id) is not { } applied)
            return (WayBack.NotFound, null);
        if (applied.State != ProposalState.Applied)
            return (WayBack.NotApplied, null);
        if (applied.Inputs.Any(input => view.Value(input, applied.Kind) is not { } value || !value.Matches(applied.To, view.ToleranceDb)))
            return (WayBack.ValueMoved, null);
        if (applied.Kind == ProposalKind.Mute && proposals.IsPatched(applied.Inputs))
            return (WayBack.PatchUnderWay, null);
        if (!mayRaise && Dangers.RiseDb(applied.Kind, applied.To, applied.From, desk) > 0)
            return (WayBack.NoIncreaseNow, null);
        var plan = new TrimPlan(applied.Inputs, UndoPlanner.Steps(applied, desk, settings(applied.Input)), null, new ProposalEvidence());
        if (proposals.Propose(rises?.Fit(plan, toCeiling: false) ?? plan, now, ProposalLife.Trim) is { } proposal)
            return (WayBack.Proposed, proposal);
        return (proposals.IsPatched(applied.Inputs) ? WayBack.PatchUnderWay : WayBack.ValueMoved, null);
    }

    /// <summary>Proposes to mute the inputs of a proposal first, so that its increase is heard by nobody at once.</summary>
    /// <returns>The mute proposal; <see langword="null"/> where there is no such proposal, or nothing to mute.</returns>
    public Proposal? MuteFirst(Guid id, Moment now)
    {
        if (book.Find(id) is not { } proposal || desk.Mute is null)
            return null;
        var open = proposal.Inputs.Where(input => settings(input).Muted is false).ToArray();
        if (open.Length == 0)
            return null;
        // A mute that already waits, as the one that the stage asked for, is the answer; another one would close it.
        return book.Open.FirstOrDefault(one => one.Kind == ProposalKind.Mute && open.All(one.Inputs.Contains)) ?? proposals.Propose(
            new TrimPlan(open, [new(ProposalKind.Mute, SettingValue.Switch(true), MuteSayings.MuteFirst)], null, new ProposalEvidence()),
            now,
            ProposalLife.Patch);
    }
}
