namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Hears the hum of an open plug. Both mains frequencies, 50 and 60 Hz, go through a whole number of cycles in a tenth of a second, so that
/// every frame reads exactly what the frame a tenth of a second before it read; no player holds a note so evenly.
/// </summary>
internal static class Hum
{
    /// <summary>What is said where nothing stood long enough to tell.</summary>
    public const float Unheard = 9;

    private const double PeriodS = 0.1;
    private const double StretchS = 0.2;

    /// <summary>Hum is rich in harmonics, but it is no chord and no click: its crest lies between these.</summary>
    private const float LeastCrestDb = 6;

    private const float MostCrestDb = 11.4f;

    /// <summary>
    /// Difference in dB between frames a tenth of a second apart, over the best stretch of 0.2 s among <paramref name="frames"/> frames:
    /// the largest of the RMS plus half the largest of the peak.
    /// </summary>
    /// <param name="h">The readings.</param>
    /// <param name="newest">Newest frame to look at.</param>
    /// <param name="frames">How many frames to look at.</param>
    /// <param name="floor">Peaks below this do not count.</param>
    public static float Repeats(RecentReadings h, int newest, int frames, float floor)
    {
        var (period, stretch) = (h.Frames(PeriodS), h.Frames(StretchS) + 1);
        var best = Unheard;
        for (var start = newest; start + stretch <= newest + frames; start++)
            best = Math.Min(best, Stretch(h, start, stretch, period, floor, best));
        return best;
    }

    private static float Stretch(RecentReadings h, int start, int stretch, int period, float floor, float best)
    {
        var (peak, rms, crest) = (0f, 0f, 0f);
        for (var b = start; b < start + stretch; b++)
        {
            if (h.Peak(b) < floor)
                return Unheard;
            crest += h.Crest(b) / stretch;
            if (b + period >= start + stretch)
                continue;
            peak = Math.Max(peak, Math.Abs(h.Peak(b) - h.Peak(b + period)));
            rms = Math.Max(rms, Math.Abs(h.Rms(b) - h.Rms(b + period)));
            if (rms + (peak / 2) >= best)
                return Unheard;
        }

        return crest is > LeastCrestDb and < MostCrestDb ? rms + (peak / 2) : Unheard;
    }
}
