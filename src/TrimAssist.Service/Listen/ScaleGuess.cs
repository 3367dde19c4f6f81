using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Service.Listen;

/// <summary>What the numbers of a meter seem to be.</summary>
/// <param name="Unit">What the numbers are.</param>
/// <param name="CountDb">dB a count; <see langword="null"/> for numbers that are dB or linear themselves.</param>
/// <param name="CountFull">The count of full scale; <see langword="null"/> likewise.</param>
/// <param name="LoudestDbfs">The loudest that was heard, for telling a peak from an RMS.</param>
internal sealed record ScaleGuess(LevelUnit Unit, double? CountDb, double? CountFull, double LoudestDbfs)
{
    private const double LowestDbfs = -200;
    private const double HighestDbfs = 20;
    private const double HighestLinear = 1.5;

    /// <summary>The guess; <see langword="null"/> where the numbers look like no levels.</summary>
    public static ScaleGuess? Of(double low, double high, bool whole, MeterElement? element = null)
    {
        if (whole)
            return low < 0 ? Counts(low, high) : high > 1 ? Linear(high, element == MeterElement.Whole16 || high <= short.MaxValue ? short.MaxValue : int.MaxValue) : null;
        if (low >= 0 && high <= HighestLinear)
            return high > 0 ? Linear(high, null) : null;
        return low < -1 && low >= LowestDbfs && high <= HighestDbfs ? new(LevelUnit.Dbfs, null, null, high) : null;
    }

    private static ScaleGuess Linear(double high, double? full) => new(LevelUnit.Amplitude, null, full, 20 * Math.Log10(high / (full ?? 1)));

    // Steps of 1, a tenth, a hundredth or a 256th of a dB: the coarsest that keeps the lowest above what any meter shows.
    private static ScaleGuess? Counts(double low, double high)
    {
        foreach (var step in new[] { 1, 0.1, 0.01, 1.0 / 256 })
        {
            if (low * step >= LowestDbfs && high * step <= HighestDbfs)
                return new(LevelUnit.Dbfs, step, null, high * step);
        }

        return null;
    }
}
