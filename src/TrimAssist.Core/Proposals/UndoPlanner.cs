using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>The way back from a change that was applied: a proposal like any other, to be confirmed like any other.</summary>
public static class UndoPlanner
{
    /// <summary>Plans the way back to the value before. A pad goes back by the same sequence of safe steps as any pad.</summary>
    /// <param name="applied">What was applied.</param>
    /// <param name="desk">The desk.</param>
    /// <param name="now">The settings of its first input.</param>
    public static IReadOnlyList<PlannedStep> Steps(Proposal applied, DeskDescription desk, InputSettings now) => (applied.Kind, applied.From) switch
    {
        (ProposalKind.Trim, var before) => [new(ProposalKind.Trim, before, TrimSayings.UndoTrim(before.Said))],
        (ProposalKind.Mute, _) => [new(ProposalKind.Unmute, SettingValue.Switch(false), TrimSayings.UndoMute)],
        (ProposalKind.Unmute, _) => [new(ProposalKind.Mute, SettingValue.Switch(true), TrimSayings.UndoUnmute)],
        (ProposalKind.Pad, { On: true }) when desk.Pad is { } pad => PadSteps.In(now.Trim?.Value ?? 0, pad, now),
        (ProposalKind.Pad, _) when (desk.Pad, desk.Trim, now.Trim) is ({ } pad, { } trim, { } current) =>
            PadSteps.Out(TrimGrid.AtMost(trim, current.Value - pad.PadDb), pad, trim, now),
        _ => [],
    };
}
