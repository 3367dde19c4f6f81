using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>
/// The best settings if every control were stepless. The ceilings bound each cumulative gain from above and the gains' ranges
/// bound their differences, so one pass backward and one forward give the highest value of every cumulative gain at once;
/// noise falls with each of them, so no other setting has a better signal-to-noise ratio.
/// </summary>
internal static class SteplessOptimum
{
    /// <summary>The best settings over all pads that end on the target or less than the longest step under it; <see langword="null"/> where none fits.</summary>
    public static IReadOnlyList<StageSetting>? Of(ChainSteps steps) => PadChoices.Of(steps.Stages)
        .Select(pads => Under(steps, pads))
        .OfType<(IReadOnlyList<StageSetting> Settings, long Reached)>()
        .Where(way => steps.IsNearTarget(way.Reached))
        .Select(way => way.Settings)
        .MaxBy(settings => ChainLevels.At(steps.Chain, settings).SignalToNoise?.Value ?? 0);

    /// <summary>The best settings under given pads and the gain that they reach, at most the target; <see langword="null"/> where a limit cannot be kept.</summary>
    public static (IReadOnlyList<StageSetting> Settings, long Reached)? Under(ChainSteps steps, bool[] pads)
    {
        var count = steps.Stages.Count;
        var highest = new long[count + 1];
        highest[count] = Lowest(steps.Target, steps.Ceilings(count, pads));
        for (var point = count - 1; point >= 0; point--)
            highest[point] = Lowest(highest[point + 1] - steps.Stages[point].Through(pads[point]).Low, steps.Ceilings(point, pads));
        if (highest[0] < 0)
            return null;

        var settings = new StageSetting[count];
        var reached = 0L;
        for (var index = 0; index < count; index++)
        {
            var next = Math.Min(highest[index + 1], reached + steps.Stages[index].Through(pads[index]).High);
            var gain = next - reached + (pads[index] ? steps.Stages[index].Pad : 0);
            settings[index] = new StageSetting(new Decibels(gain / (double)ChainSteps.PerDecibel), pads[index]);
            reached = next;
        }

        return (settings, reached);
    }

    private static long Lowest(long bound, IEnumerable<(int Stage, bool AtInput, long Limit)> ceilings) =>
        ceilings.Aggregate(bound, (lowest, ceiling) => Math.Min(lowest, ceiling.Limit));
}
