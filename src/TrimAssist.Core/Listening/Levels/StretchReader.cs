namespace TrimAssist.Core.Listening.Levels;

/// <summary>Reads what one stretch of a tape, heard at one gain, says about noise and clipping.</summary>
internal static class StretchReader
{
    /// <summary>A shorter stretch says nothing.</summary>
    public const double LeastS = 5;

    private const double RestShare = 0.05;
    private const double SteadyDb = 1.5;
    private const double SteadyS = 3;

    /// <summary>What a meter reads below this is the end of its scale or a mute, no noise.</summary>
    private const double LowestNoiseDbfs = -95;

    /// <summary>Reads the stretch; <see langword="null"/> where it is too short.</summary>
    /// <param name="part">The stretch of the tape, read at the gain.</param>
    /// <param name="gainDb">The gain.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap.</param>
    public static GainStretch? Of(TapeCopy part, double gainDb, double fullScaleDbfs)
    {
        if (part.Length < part.Cells(LeastS))
            return null;
        double? plateau = Playing.Find(part) is { } playing && FlatTopDetector.PilesUp(playing, fullScaleDbfs) ? playing.PeakDbfs : null;
        return new GainStretch(gainDb, SteadyFloor(part), plateau);
    }

    // Soft playing spreads over many dB; noise stands still. Only a floor that many rests share is believed.
    private static double? SteadyFloor(TapeCopy part)
    {
        var levels = Quantile.Sorted([.. part.Energy.Where(level => level > LowestNoiseDbfs)]);
        if (levels.Length == 0)
            return null;
        var low = Quantile.OfSorted(levels, RestShare);
        var rests = Array.FindAll(levels, level => Math.Abs(level - low) <= SteadyDb);
        return rests.Length >= part.Cells(SteadyS) ? Quantile.OfSorted(rests, 0.5) : null;
    }
}
