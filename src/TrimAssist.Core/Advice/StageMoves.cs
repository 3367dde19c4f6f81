using TrimAssist.Core.Chain;

namespace TrimAssist.Core.Advice;

/// <summary>
/// What each stage of a chain would have to do to come from today's settings to the quietest ones that keep every limit, as if
/// the controls were stepless: quick enough to be asked while the meters run, and nearer than a step to the planner's answer.
/// </summary>
internal sealed class StageMoves
{
    private readonly double[] _changes;

    private StageMoves(double[] changes) => _changes = changes;

    /// <summary>The moves; <see langword="null"/> where a setting of today is not known or the chain's limits cannot hold together.</summary>
    public static StageMoves? Of(SignalChain chain) =>
        chain.Today is { } today && SteplessOptimum.Of(new ChainSteps(chain)) is { } best
            ? new([.. best.Select((setting, index) => Whole((setting.Gain - today[index].Gain).Value, chain.Stages[index].Step.Value))])
            : null;

    /// <summary>The first stage up to one that should go up, and by how much; <see langword="null"/> where none can.</summary>
    /// <param name="until">The last stage to look at.</param>
    public (int Stage, double ByDb)? FirstUp(int until)
    {
        for (var index = 0; index <= until && index < _changes.Length; index++)
        {
            if (_changes[index] >= 1)
                return (index, _changes[index]);
        }

        return null;
    }

    // Towards less: a control turned a step less far clips nothing.
    private static double Whole(double change, double step) => step <= 0 ? change : Math.Round(Math.Floor((change / step) + 1e-6) * step, 6);
}
