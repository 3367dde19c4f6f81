namespace TrimAssist.Core.Listening.Jumps;

/// <summary>The highest of the last frames, with a ring of fixed size. The present frame is not in it until it is added.</summary>
internal sealed class RecentMaximum(double spanS, double frameS)
{
    private readonly double[] _ring = NewRing((int)Math.Max(1, Math.Round(spanS / frameS)));
    private int _next;

    /// <summary>The highest; −∞ before anything was added.</summary>
    public double Value { get; private set; } = double.NegativeInfinity;

    /// <summary>Adds a frame.</summary>
    public void Add(double level)
    {
        var leaving = _ring[_next];
        _ring[_next] = level;
        _next = (_next + 1) % _ring.Length;
        if (level >= Value)
            Value = level;
        else if (leaving >= Value)
            Value = Highest();
    }

    private double Highest()
    {
        var highest = double.NegativeInfinity;
        foreach (var level in _ring)
            highest = Math.Max(highest, level);
        return highest;
    }

    private static double[] NewRing(int length)
    {
        var ring = new double[length];
        Array.Fill(ring, double.NegativeInfinity);
        return ring;
    }
}
