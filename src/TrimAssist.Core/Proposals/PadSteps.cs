using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>
/// Pad changes as sequences in which nothing jumps: the input is closed first, the gain never rises before the pad is in,
/// and comes down before the pad comes out.
/// </summary>
public static class PadSteps
{
    /// <summary>Mute, pad in, trim to the goal, unmute.</summary>
    public static IReadOnlyList<PlannedStep> In(double goalDb, PadControl pad, InputSettings now) => Closed(now,
    [
        new(ProposalKind.Pad, SettingValue.Switch(true), TrimSayings.PadIn(pad.PadDb)),
        new(ProposalKind.Trim, SettingValue.Gain(goalDb), TrimSayings.PadInTrim),
    ]);

    /// <summary>Mute, trim down by the pad (or to the lowest setting), pad out, trim to the goal, unmute.</summary>
    public static IReadOnlyList<PlannedStep> Out(double goalDb, PadControl pad, TrimControl trim, InputSettings now)
    {
        var current = now.Trim?.Value ?? trim.MinDb;
        var lowered = TrimGrid.AtMost(trim, current - pad.PadDb);
        return Closed(now,
        [
            new(ProposalKind.Trim, SettingValue.Gain(lowered), TrimSayings.PadOutTrim),
            new(ProposalKind.Pad, SettingValue.Switch(false), TrimSayings.PadOut(pad.PadDb)),
            new(ProposalKind.Trim, SettingValue.Gain(goalDb), TrimSayings.PadOutGoal),
        ]);
    }

    // The input is opened again only where this very sequence closed it.
    private static IReadOnlyList<PlannedStep> Closed(InputSettings now, IReadOnlyList<PlannedStep> inside) => now.Muted is true
        ? inside
        :
        [
            new(ProposalKind.Mute, SettingValue.Switch(true), TrimSayings.PadMute),
            .. inside,
            new(ProposalKind.Unmute, SettingValue.Switch(false), TrimSayings.PadUnmute),
        ];
}
