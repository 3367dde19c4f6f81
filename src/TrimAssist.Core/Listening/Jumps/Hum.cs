namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Hears the hum of an open plug. A frame that lies a whole number of cycles of the mains after another reads exactly the same; no player
/// holds a note so evenly.
/// </summary>
internal sealed class Hum
{
    /// <summary>What is said where nothing stood long enough to tell.</summary>
    public const float Unheard = 9;

    private const double MainsHz = 50;
    private const double OtherMainsHz = 60;

    /// <summary>Frames nearer than this are alike in music too; further apart than this no plug stays open.</summary>
    private const double ShortestPeriodS = 0.08;

    private const double LongestPeriodS = 0.3;

    /// <summary>How much of a cycle two frames may lie off.</summary>
    private const double OffCycles = 0.03;

    private const double UsualPeriodS = 0.1;

    /// <summary>How long a stretch is at least, and for how long beyond one period.</summary>
    private const double StretchS = 0.2;

    private const double BeyondS = 0.1;

    /// <summary>Hum is rich in harmonics, but it is no chord and no click: its crest lies between these.</summary>
    private const float LeastCrestDb = 6;

    private const float MostCrestDb = 11.4f;

    private readonly RecentReadings _history;
    private readonly int _period;
    private readonly int _otherPeriod;

    public Hum(RecentReadings history) =>
        (_history, _period, _otherPeriod) = (history, PeriodFrames(history, MainsHz), PeriodFrames(history, OtherMainsHz));

    /// <summary>
    /// Difference in dB between frames that lie whole cycles of the mains apart, over the best stretch among <paramref name="frames"/>
    /// frames: the largest of the RMS plus half the largest of the peak.
    /// </summary>
    /// <param name="newest">Newest frame to look at.</param>
    /// <param name="frames">How many frames to look at.</param>
    /// <param name="floor">Peaks below this do not count.</param>
    /// <param name="limit">What differs by more is not looked at any further; answered where nothing differs by less.</param>
    public float Repeats(int newest, int frames, float floor, float limit = Unheard)
    {
        var best = Best(newest, frames, floor, _period, limit);
        return _otherPeriod == _period ? best : Best(newest, frames, floor, _otherPeriod, best);
    }

    /// <summary>The fewest frames that last whole cycles; where none do, what lasts about a tenth of a second.</summary>
    private static int PeriodFrames(RecentReadings h, double mainsHz)
    {
        for (var frames = 1; frames * h.FrameS <= LongestPeriodS; frames++)
        {
            var cycles = frames * h.FrameS * mainsHz;
            if (frames * h.FrameS >= ShortestPeriodS - (OffCycles / mainsHz) && Math.Abs(cycles - Math.Round(cycles)) <= OffCycles)
                return frames;
        }

        return h.Frames(UsualPeriodS);
    }

    private float Best(int newest, int frames, float floor, int period, float best)
    {
        var stretch = Math.Max(_history.Frames(StretchS), period + _history.Frames(BeyondS)) + 1;
        for (var start = newest; start + stretch <= newest + frames; start++)
            best = Math.Min(best, Stretch(start, stretch, period, floor, best));
        return best;
    }

    private float Stretch(int start, int stretch, int period, float floor, float best)
    {
        var h = _history;
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
