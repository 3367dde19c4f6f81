using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Patch;

/// <summary>What is known at one moment about a patch's input.</summary>
/// <param name="Link">How the link stands.</param>
/// <param name="Muted">Whether every input of the patch is muted by its own mute; <see langword="null"/> where the desk has not said.</param>
/// <param name="Verified">Whether the desk said so within <see cref="PatchRules.VerifiedWithin"/>.</param>
/// <param name="Mute">Where the mute proposal stands; <see langword="null"/> where there is none.</param>
/// <param name="Opening">Where the proposal that opens the input stands; <see langword="null"/> while another step comes before it.</param>
public readonly record struct PatchSight(LinkState Link, bool? Muted, bool Verified, ProposalState? Mute, ProposalState? Opening);
