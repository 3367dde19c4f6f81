using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>The desk's side of a decision: what a proposal must still find there.</summary>
/// <param name="Link">How the link stands.</param>
/// <param name="Settings">What the desk last said about an input, by input number.</param>
/// <param name="ToleranceDb">How far two readings of a trim may lie apart and still be the same setting.</param>
public sealed record DeskView(LinkState Link, Func<int, InputSettings> Settings, double ToleranceDb)
{
    /// <summary>Whether every input that the proposal changes still has the value, and the socket, that it started from.</summary>
    public bool StillHas(Proposal proposal) => proposal.Inputs.All(input => StillHas(proposal, Settings(input)));

    /// <summary>The control's value on an input; <see langword="null"/> where the desk has not said.</summary>
    public SettingValue? Value(int input, ProposalKind kind) => ControlValue.Of(Settings(input), kind);

    private bool StillHas(Proposal proposal, InputSettings settings) =>
        ControlValue.Of(settings, proposal.Kind) is { } now
        && now.Matches(proposal.From, ToleranceDb)
        && (proposal.Socket is null || settings.Input != proposal.Input || string.Equals(settings.Socket, proposal.Socket, StringComparison.Ordinal));
}
