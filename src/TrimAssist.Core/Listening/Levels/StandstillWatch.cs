namespace TrimAssist.Core.Listening.Levels;

/// <summary>Finds a meter that is stuck: the very same reading for five seconds, well above the lowest one heard or above any rest.</summary>
/// <remarks>A meter at rest at its lowest value is not stuck. A steady tone from a generator looks the same, and is no playing either.</remarks>
internal sealed class StandstillWatch
{
    /// <summary>For how long a reading may stay the same to the hundredth of a dB, in seconds.</summary>
    public const double LimitS = 5;

    private const double AboveRestDb = 10;
    private double _reading = double.NaN;
    private double _sinceS;
    private double _lowest = double.PositiveInfinity;

    /// <summary>When the reading now standing still began to; <see langword="null"/> while the meter moves or rests.</summary>
    public double? StuckSinceS { get; private set; }

    /// <summary>How often the meter has got stuck.</summary>
    public int Count { get; private set; }

    /// <summary>Takes one reading.</summary>
    public void Observe(double timeS, double peakDb)
    {
        _lowest = double.MinNative(_lowest, peakDb);
        if (!(Math.Abs(peakDb - _reading) < 0.005))
        {
            (_reading, _sinceS, StuckSinceS) = (peakDb, timeS, null);
            return;
        }

        if (StuckSinceS is not null || timeS - _sinceS < LimitS || peakDb < Math.Min(_lowest + AboveRestDb, Playing.HighestRestDbfs))
            return;
        (StuckSinceS, Count) = (_sinceS, Count + 1);
    }
}
