using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>One step of a plan: what to set, not yet where it starts from. That is read when its turn comes.</summary>
/// <param name="Kind">What to change.</param>
/// <param name="To">The value wanted.</param>
/// <param name="Reason">Why, in one plain sentence.</param>
public sealed record PlannedStep(ProposalKind Kind, SettingValue To, Saying Reason)
{
    /// <summary>What a desk's way of writing numbers down may add to a bounded rise, in dB: nobody hears a thousandth.</summary>
    public const double SlackDb = 1e-3;

    /// <summary>
    /// The most in dB that it may raise a trim over what the desk has when its turn comes, which may lie beside what was planned; then it stops
    /// short of <see cref="To"/>. <see langword="null"/> for no such bound.
    /// </summary>
    public double? MostRiseDb { get; init; }
}

/// <summary>What the planner makes of a check of one input, or of a linked pair.</summary>
/// <param name="Inputs">The inputs it is about.</param>
/// <param name="Steps">The steps to propose, in order; empty where nothing should change or nothing can be proposed.</param>
/// <param name="Advice">A sentence for the engineer beside the steps, or in their place.</param>
/// <param name="Evidence">The figures behind it.</param>
public sealed record TrimPlan(IReadOnlyList<int> Inputs, IReadOnlyList<PlannedStep> Steps, Saying? Advice, ProposalEvidence Evidence)
{
    /// <summary>Whether what its first step muted is offered to be opened when a later step is given up: nobody sits at the desk to open it.</summary>
    public bool OpensWhenGivenUp { get; init; }

    /// <summary>How far an input's gain will have moved when every step is done, in dB.</summary>
    public double GainChange(DeskDescription desk, InputSettings now)
    {
        var trim = Steps.LastOrDefault(step => step.Kind == ProposalKind.Trim)?.To.Db - now.Trim?.Value;
        return (trim ?? 0) + Steps.Where(step => step.Kind == ProposalKind.Pad).Sum(step => Dangers.RiseDb(step.Kind, default, step.To, desk));
    }
}
