using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>What the planner says about a chain.</summary>
/// <param name="Today">The levels at today's settings; <see langword="null"/> where a setting is not known.</param>
/// <param name="Advice">Plain sentences for the engineer, the most useful first.</param>
public abstract record ChainAnswer(ChainLevels? Today, IReadOnlyList<string> Advice);

/// <summary>The best settings.</summary>
/// <param name="Settings">One for each stage.</param>
/// <param name="Levels">The levels at them.</param>
/// <param name="ClipsFirst">What clips first when the source grows; <see langword="null"/> without any known limit.</param>
/// <param name="Today">The levels at today's settings.</param>
/// <param name="Advice">Plain sentences for the engineer.</param>
public sealed record ChainPlan(
    IReadOnlyList<StageSetting> Settings, ChainLevels Levels, ClipPoint? ClipsFirst, ChainLevels? Today, IReadOnlyList<string> Advice)
    : ChainAnswer(Today, Advice);

/// <summary>No setting keeps every limit and reaches the target.</summary>
/// <param name="Collision">The limits that cannot hold together.</param>
/// <param name="Today">The levels at today's settings.</param>
/// <param name="Advice">Plain sentences for the engineer.</param>
public sealed record ChainInfeasible(ChainCollision Collision, ChainLevels? Today, IReadOnlyList<string> Advice) : ChainAnswer(Today, Advice);

/// <summary>A place that clips when the source grows.</summary>
/// <param name="Stage">The stage's index, from 0.</param>
/// <param name="AtInput">Whether its input clips, not its output.</param>
/// <param name="Margin">By how much the source may grow until then; below 0 when it clips already.</param>
public sealed record ClipPoint(int Stage, bool AtInput, Decibels Margin)
{
    /// <summary>The nearest of all clip points, the earliest where several are equally near; <see langword="null"/> without any known limit.</summary>
    public static ClipPoint? First(ChainLevels levels)
    {
        ArgumentNullException.ThrowIfNull(levels);
        return levels.Stages
            .SelectMany((stage, index) => new[] { Of(index, true, stage.HeadroomIn), Of(index, false, stage.HeadroomOut) })
            .OfType<ClipPoint>()
            .MinBy(point => Math.Round(point.Margin.Value, 6));
    }

    private static ClipPoint? Of(int stage, bool atInput, Decibels? margin) => margin is { } known ? new(stage, atInput, known) : null;
}
