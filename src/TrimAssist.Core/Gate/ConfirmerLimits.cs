using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Gate;

/// <summary>What a confirmer who is not the engineer may confirm.</summary>
/// <param name="Inputs">The inputs it may change.</param>
/// <param name="MostRiseDb">The most that it may raise an input, and that only while the input is muted.</param>
public sealed record ConfirmerLimits(IReadOnlyList<int> Inputs, double MostRiseDb)
{
    /// <summary>A band in its rehearsal room may raise by this much while muted.</summary>
    public const double RoomRiseDb = 3;

    /// <summary>
    /// Whether it may confirm this proposal as the desk stands now. An unknown mute counts as open; a preamp that feeds an input of somebody
    /// else is not its own.
    /// </summary>
    public bool Allow(Proposal proposal, DeskDescription desk, Func<int, InputSettings> settings) =>
        proposal.Inputs.All(Inputs.Contains)
        && (proposal.Kind is ProposalKind.Mute or ProposalKind.Unmute || !FeedsOthers(proposal.Inputs, desk, settings))
        && (Dangers.RiseDb(proposal.Kind, proposal.From, proposal.To, desk) is var rise && rise <= 0
            || (rise <= MostRiseDb + PlannedStep.SlackDb && proposal.Inputs.All(input => settings(input).Muted is true)));

    private bool FeedsOthers(IReadOnlyList<int> own, DeskDescription desk, Func<int, InputSettings> settings)
    {
        var sockets = own.Select(input => settings(input).Socket).OfType<string>().ToHashSet(StringComparer.Ordinal);
        return Enumerable.Range(1, desk.Inputs).Any(other => !Inputs.Contains(other) && settings(other).Socket is { } socket && sockets.Contains(socket));
    }
}
