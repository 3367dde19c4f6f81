namespace TrimAssist.Core.Listening.Levels;

/// <summary>Which parts of a tape are playing, and which of its bangs are none.</summary>
/// <param name="ActiveS">Seconds of playing.</param>
/// <param name="ThresholdDbfs">Cells whose peak lies above this are played.</param>
/// <param name="PeakDbfs">Highest peak of the playing.</param>
/// <param name="Tape">The tape without the bangs.</param>
internal sealed record Playing(double ActiveS, double ThresholdDbfs, double PeakDbfs, TapeCopy Tape)
{
    private const double RestDb = 10;
    private const double SpillDb = 25;

    /// <summary>No working input's noise peaks this high: what is steady and above it has been playing without a rest.</summary>
    public const double HighestRestDbfs = -35;

    private const double HangoverS = 0.5;
    private const double TypicalShare = 0.15;

    /// <summary>Sorts playing from rest and spill; <see langword="null"/> where nothing was played.</summary>
    public static Playing? Find(TapeCopy tape)
    {
        var cleared = Bangs.CutOut(tape);
        var loud = Quantile.Of(BlockMaxima.Of(cleared.Peak, cleared.Cells(2)), 1 - TypicalShare);
        var rest = Quantile.Of(cleared.Peak, 0.1);
        var blocks = BlockMaxima.Of(cleared.Peak, cleared.Cells(1));
        // an input that plays for a small part of the check has no loud fifteen per cent: look at its highest blocks then
        var highest = Quantile.Sorted(blocks);
        if (highest.Length == 0)
            return null;
        loud = Math.Max(loud, highest[^Math.Min(highest.Length, 3)] - 10);
        var threshold = Math.Max(Math.Min(rest + RestDb, HighestRestDbfs), loud - SpillDb);
        var peak = highest[^1];
        if (!(peak > threshold))
            return null;
        return new Playing(ActiveSeconds(cleared, threshold), threshold, peak, cleared);
    }

    private static double ActiveSeconds(TapeCopy tape, double threshold)
    {
        // a drum plays between its hits too: half a second on either side of a played cell counts
        var hangover = tape.Cells(HangoverS);
        var active = 0;
        var until = -1;
        for (var i = 0; i < tape.Length; i++)
        {
            if (tape.Peak[i] > threshold)
            {
                active += Math.Min(i + hangover, tape.Length - 1) - Math.Max(until, Math.Max(i - hangover, 0) - 1);
                until = Math.Min(i + hangover, tape.Length - 1);
            }
        }

        return Math.Max(0, active) * tape.CellS;
    }
}
