using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>A change that a planner wants to propose, before the book gives it an id, a digest and a life span.</summary>
/// <param name="Inputs">The inputs to change.</param>
/// <param name="Kind">What to change.</param>
/// <param name="From">The value that the desk has.</param>
/// <param name="To">The value wanted.</param>
/// <param name="Reason">Why, in one plain sentence.</param>
/// <param name="Evidence">The figures behind the reason.</param>
/// <param name="Life">How long it may stand open.</param>
public sealed record ProposalDraft(
    IReadOnlyList<int> Inputs,
    ProposalKind Kind,
    SettingValue From,
    SettingValue To,
    string Reason,
    ProposalEvidence Evidence,
    TimeSpan Life);
