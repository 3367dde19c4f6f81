using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Patch;

/// <summary>What is known at one moment about a patch's input.</summary>
/// <param name="Link">How the link stands.</param>
/// <param name="Muted">Whether every input of the patch is muted by its own mute; <see langword="null"/> where the desk has not said.</param>
/// <param name="Verified">Whether the desk said so within <see cref="PatchRules.VerifiedWithin"/>.</param>
/// <param name="Mute">Where the mute proposal stands; <see langword="null"/> where there is none.</param>
/// <param name="Opening">The latest step of the sequence that opens the input; <see langword="null"/> where none is remembered.</param>
public readonly record struct PatchSight(LinkState Link, bool? Muted, bool Verified, ProposalState? Mute, Proposal? Opening);
