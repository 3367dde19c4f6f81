using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Checks;

/// <summary>
/// Brings the loud passages of inputs nearer to each other by turning the louder ones down below what their headroom allows.
/// Nothing is ever turned up for it, so every input keeps its headroom; and the spread never grows.
/// </summary>
public static class EvenFaders
{
    /// <summary>The most that an input is turned down for it: further, and its noise comes up with the fader. Common practice.</summary>
    public const double MostDb = 6;

    /// <summary>How far to turn each input down, in whole steps.</summary>
    /// <param name="levelsDbfs">The loud passages at the trims that the headroom allows.</param>
    /// <param name="stepDb">The trim's step.</param>
    public static double[] Lowerings(IReadOnlyList<double> levelsDbfs, double stepDb)
    {
        ArgumentNullException.ThrowIfNull(levelsDbfs);
        if (levelsDbfs.Count == 0)
            return [];
        var common = Math.Max(levelsDbfs.Min(), levelsDbfs.Max() - MostDb);
        return [.. levelsDbfs.Select(level => TrimGrid.StepDown(Math.Max(0, level - common), stepDb))];
    }
}
