using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Patch;

/// <summary>When a safe patch goes from one state to the next. Nothing here remembers anything or looks at a clock.</summary>
public static class PatchRules
{
    /// <summary>How long one reading of the mute counts: <em>plug now</em> never outlives it.</summary>
    public static readonly TimeSpan VerifiedWithin = TimeSpan.FromSeconds(1);

    /// <summary>The patch as it stands after what is seen now.</summary>
    public static SafePatch Next(SafePatch patch, PatchSight sight) => patch.State switch
    {
        PatchState.Waiting => AfterWaiting(patch, sight),
        PatchState.Safe or PatchState.Partly => Loss(sight) is { } why ? To(patch, PatchState.Lost, why) : patch,
        PatchState.Settling when patch.OpeningSequence is null => Loss(sight) is { } why ? To(patch, PatchState.Lost, why) : patch,
        PatchState.Settling => AfterOpening(patch, sight),
        PatchState.Done or PatchState.Lost => patch,
        _ => throw new ArgumentOutOfRangeException(nameof(patch), patch.State, "not a state of a patch"),
    };

    /// <summary>The stage says that it has plugged. Only a patch whose mute is verified goes on; any other stays as it is.</summary>
    public static SafePatch Plugged(SafePatch patch) => patch.State is PatchState.Safe or PatchState.Partly
        ? To(patch, PatchState.Settling, "Plugged. Leave it alone: it is listened to until it is quiet or steady.")
        : patch;

    /// <summary>The input has settled and stays muted: nobody opens what the service did not close.</summary>
    public static SafePatch StaysMuted(SafePatch patch, string why) => To(patch, PatchState.Done, why);

    private static SafePatch AfterWaiting(SafePatch patch, PatchSight sight)
    {
        if (sight.Link != LinkState.Live)
            return To(patch, PatchState.Lost, "Stop: the link to the desk is lost. Ask again when it is back.");
        if (sight is { Muted: true, Verified: true })
        {
            return patch.OpenPaths.Count == 0
                ? To(patch, PatchState.Safe, "Muted: plug now.")
                : To(patch, PatchState.Partly, $"Partly muted. Still open: {string.Join(", ", patch.OpenPaths)}. Ask before you plug.");
        }

        return sight.Mute switch
        {
            ProposalState.Declined => To(patch, PatchState.Lost, "Stop: the engineer said no. Ask."),
            ProposalState.Expired => To(patch, PatchState.Lost, "Stop: nobody answered. Ask again."),
            ProposalState.Failed => To(patch, PatchState.Lost, "Stop: the desk did not take the mute. Ask."),
            ProposalState.Superseded when sight.Muted is false => To(patch, PatchState.Lost, "Stop: the desk was changed meanwhile. Ask again."),
            _ => patch,
        };
    }

    private static SafePatch AfterOpening(SafePatch patch, PatchSight sight) => sight switch
    {
        { Opening: { Kind: ProposalKind.Unmute, State: ProposalState.Applied } } => To(patch, PatchState.Done, "Open again."),
        { Link: not LinkState.Live } => To(patch, PatchState.Lost, Loss(sight)!),
        // What the engineer confirmed is on its way: a mute that reads open may be its work.
        { Opening: { Kind: ProposalKind.Unmute, State: ProposalState.Confirmed } } => patch,
        { Opening: { Kind: ProposalKind.Unmute, State: ProposalState.Unknown }, Muted: false } => patch,
        { Muted: false } => To(patch, PatchState.Done, "Opened at the desk."),
        { Opening.State: ProposalState.Open or ProposalState.Confirmed or ProposalState.Unknown } => Loss(sight) is { } why ? To(patch, PatchState.Lost, why) : patch,
        _ => To(patch, PatchState.Done, "Settled. It stays muted until the engineer opens it."),
    };

    private static string? Loss(PatchSight sight) => sight switch
    {
        { Link: not LinkState.Live } => "Stop: the link to the desk is lost. Ask.",
        { Muted: not true } => "Stop: the input is no longer muted. Ask.",
        { Verified: false } => "Stop: the desk no longer confirms the mute. Ask.",
        _ => null,
    };

    private static SafePatch To(SafePatch patch, PatchState state, string text) => patch with { State = state, Text = text };
}
