namespace TrimAssist.Audio.Loudness;

/// <summary>Powers that passed the absolute gate, kept for the gates that only the end can set. Eighty bytes per second.</summary>
internal sealed class GatedPowers
{
    private static readonly double AbsoluteGate = LoudnessScale.Power(LoudnessScale.AbsoluteGateLufs);
    private readonly List<double> _powers = [];
    private double _sum;

    /// <summary>Takes a power; below the absolute gate it is not kept.</summary>
    public void Add(double power)
    {
        if (power <= AbsoluteGate)
            return;
        _powers.Add(power);
        _sum += power;
    }

    /// <summary>The powers above a gate that lies this far below the mean of all kept.</summary>
    public IEnumerable<double> Above(double belowMeanLu)
    {
        var gate = _sum / _powers.Count * Math.Pow(10, -belowMeanLu / 10);
        return _powers.Where(power => power > gate);
    }
}
