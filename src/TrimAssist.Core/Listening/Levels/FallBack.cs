namespace TrimAssist.Core.Listening.Levels;

/// <summary>Tells a meter that merely falls back from one that shows a new peak.</summary>
/// <param name="releaseDbPerS">How fast the meter falls in dB per second; 0 where every frame shows its own peak.</param>
internal sealed class FallBack(double releaseDbPerS)
{
    // desks round their meter values: a fall counts as such within this
    private const double ToleranceDb = 0.3;
    private double _previousDb = double.NaN;
    private double _previousS;

    /// <summary>Whether the reading is only the fall of an earlier peak; what was there is then unknown, and no louder.</summary>
    public bool IsFalling(double timeS, double peakDb)
    {
        if (releaseDbPerS <= 0)
            return false;
        var fallen = _previousDb - releaseDbPerS * (timeS - _previousS);
        (_previousDb, _previousS) = (peakDb, timeS);
        return peakDb <= fallen + ToleranceDb;
    }
}
