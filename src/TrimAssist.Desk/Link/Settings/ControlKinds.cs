using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>The controls that stand behind a kind of proposal.</summary>
internal static class ControlKinds
{
    /// <summary>The control that a proposal of this kind changes.</summary>
    public static ControlKind Of(ProposalKind kind) => kind switch
    {
        ProposalKind.Trim => ControlKind.Trim,
        ProposalKind.Pad => ControlKind.Pad,
        _ => ControlKind.Mute,
    };

    /// <summary>What a change of this kind rests on: its control, the socket that feeds the input, the pair that it is in.</summary>
    public static List<ControlKind> RestsOn(DeskProfile profile, ProposalKind kind)
    {
        List<ControlKind> controls = [Of(kind)];
        if (profile.Control(ControlKind.Source) is not null)
            controls.Add(ControlKind.Source);
        // The partner of a pair moves with a preamp, not with a mute.
        if (kind is ProposalKind.Trim or ProposalKind.Pad && profile.Control(ControlKind.Link) is { CanBeAsked: true })
            controls.Add(ControlKind.Link);
        return controls;
    }
}
