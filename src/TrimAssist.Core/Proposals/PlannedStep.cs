using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>One step of a plan: what to set, not yet where it starts from. That is read when its turn comes.</summary>
/// <param name="Kind">What to change.</param>
/// <param name="To">The value wanted.</param>
/// <param name="Reason">Why, in one plain sentence.</param>
public sealed record PlannedStep(ProposalKind Kind, SettingValue To, Saying Reason);

/// <summary>What the planner makes of a check of one input, or of a linked pair.</summary>
/// <param name="Inputs">The inputs it is about.</param>
/// <param name="Steps">The steps to propose, in order; empty where nothing should change or nothing can be proposed.</param>
/// <param name="Advice">A sentence for the engineer beside the steps, or in their place.</param>
/// <param name="Evidence">The figures behind it.</param>
public sealed record TrimPlan(IReadOnlyList<int> Inputs, IReadOnlyList<PlannedStep> Steps, Saying? Advice, ProposalEvidence Evidence)
{
    /// <summary>How far an input's gain will have moved when every step is done, in dB.</summary>
    public double GainChange(DeskDescription desk, InputSettings now)
    {
        var trim = Steps.LastOrDefault(step => step.Kind == ProposalKind.Trim)?.To.Db - now.Trim?.Value;
        return (trim ?? 0) + Steps.Where(step => step.Kind == ProposalKind.Pad).Sum(step => Dangers.RiseDb(step.Kind, default, step.To, desk));
    }
}
