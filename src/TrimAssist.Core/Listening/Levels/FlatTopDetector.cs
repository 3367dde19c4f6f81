namespace TrimAssist.Core.Listening.Levels;

/// <summary>Finds an earlier stage that clips: the peaks pile up at one level below full scale.</summary>
internal static class FlatTopDetector
{
    private const double PlateauDb = 0.1;
    private const double BelowDb = 1;
    private const double ApartS = 0.5;
    private const int LeastMoments = 4;

    /// <summary>Whether the peaks of the playing pile up.</summary>
    /// <param name="playing">The playing.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap: a pile-up there is the converter's, not an earlier stage's.</param>
    public static bool PilesUp(Playing playing, double fullScaleDbfs)
    {
        var peak = playing.PeakDbfs;
        if (peak >= fullScaleDbfs - OverloadCounter.MarginDb)
            return false;
        var tape = playing.Tape;
        int top = 0, below = 0, moments = 0, last = int.MinValue / 2;
        for (var i = 0; i < tape.Length; i++)
        {
            if (tape.Peak[i] >= peak - PlateauDb)
            {
                top++;
                if (i - last >= tape.Cells(ApartS))
                    moments++;
                last = i;
            }
            else if (tape.Peak[i] >= peak - BelowDb)
            {
                below++;
            }
        }

        return moments >= LeastMoments && top > below;
    }
}
