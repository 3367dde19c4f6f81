namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Hears a bad contact: clicks much shorter than a frame, several within a second. A click's energy fits into a fraction of a millisecond,
/// so its frame's peak stands far over its RMS; an attack that starts at a frame's end looks the same once, but the next frame is full.
/// </summary>
internal sealed class CrackleWatch(RecentReadings history)
{
    /// <summary>Crest of a frame of 50 ms with one click of about a third of a millisecond.</summary>
    private const float ClickCrestDb = 18;

    private const float UpDb = 12;

    /// <summary>Without RMS only a tall spike out of a level rest that is gone within two frames is a click.</summary>
    private const float PeakOnlyUpDb = 24;

    private const int Clicks = 3;
    private const double WithinS = 1;

    /// <summary>Without RMS a click must fall back this far towards where it came from.</summary>
    private const float BackWithinDb = 4;

    private readonly float _crest = ClickCrestDb + (float)(CrestPerDecade * Math.Log10(history.FrameS / 0.05));
    private readonly double[] _times = new double[Clicks];
    private long _count;

    /// <summary>A longer frame dilutes a click's energy: 10 dB a decade for one click; half of that, as long frames catch more clicks.</summary>
    private const double CrestPerDecade = 5;

    /// <summary>Looks at the frame two frames ago; true when it was the third click within a second.</summary>
    public bool Look(double timeS)
    {
        if (history.Count < 8 || !IsClick(2))
            return false;
        _times[_count++ % Clicks] = timeS;
        return _count >= Clicks && timeS - _times[_count % Clicks] <= WithinS;
    }

    private bool IsClick(int back)
    {
        var peak = history.Peak(back);
        var before = float.MinNative(history.Peak(back + 1), float.MinNative(history.Peak(back + 2), history.Peak(back + 3)));
        if (peak - before < UpDb)
            return false;
        var after = Math.Min(history.Peak(back - 1), history.Peak(back - 2));
        return history.HasRms
            ? history.Crest(back) >= _crest && (after < peak - UpDb || history.Crest(back - 1) >= _crest)
            : peak - before >= PeakOnlyUpDb && after < before + BackWithinDb && history.Highest(back + 1, 3) < before + BackWithinDb;
    }
}
