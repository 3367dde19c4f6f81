namespace TrimAssist.Core.Listening.Levels;

/// <summary>Counts overloads: frames whose peak reaches full scale. Frames less than half a second apart are one overload.</summary>
internal sealed class OverloadCounter
{
    /// <summary>How close to full scale counts as reached, in dB.</summary>
    public const double MarginDb = 0.1;

    private const double ApartS = 0.5;
    private double _lastS = double.NegativeInfinity;

    /// <summary>Overloads so far.</summary>
    public int Count { get; private set; }

    /// <summary>Takes one frame.</summary>
    /// <param name="timeS">Its end.</param>
    /// <param name="peakDbfs">Its peak.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap.</param>
    public void Observe(double timeS, double peakDbfs, double fullScaleDbfs)
    {
        if (peakDbfs < fullScaleDbfs - MarginDb)
            return;
        if (timeS - _lastS > ApartS)
            Count++;
        _lastS = timeS;
    }
}
