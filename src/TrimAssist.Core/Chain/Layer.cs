namespace TrimAssist.Core.Chain;

/// <summary>The cumulative gains that settings can reach at one point of a chain, and the quietest way to each.</summary>
internal sealed class Layer
{
    private readonly long _unit;
    private readonly int[] _origin;
    private readonly int[] _way;
    private readonly bool[] _padIn;

    public Layer(long bottom, long unit, int length)
    {
        Bottom = bottom;
        _unit = unit;
        Power = new double[length];
        Early = new long[length];
        _origin = new int[length];
        _way = new int[length];
        _padIn = new bool[length];
        Array.Fill(Power, double.PositiveInfinity);
    }

    /// <summary>The lowest gain of the lattice.</summary>
    public long Bottom { get; }

    /// <summary>The highest gain of the lattice.</summary>
    public long Top => Bottom + (Length - 1) * _unit;

    /// <summary>How many gains the lattice has.</summary>
    public int Length => Power.Length;

    /// <summary>The noise so far beside the source's peak, as a power; infinite where no setting leads.</summary>
    public double[] Power { get; }

    /// <summary>The sum of the gains on the way: among ways of equal noise the one with its gain earlier wins.</summary>
    public long[] Early { get; }

    /// <summary>The source itself, with the noise that it brings, given beside its peak.</summary>
    public static Layer Start(double? noise)
    {
        var start = new Layer(0, 1, 1);
        start.Power[0] = noise is { } level ? NoisePower.Of(level) : 0;
        return start;
    }

    /// <summary>The gain at an index.</summary>
    public long At(int index) => Bottom + index * _unit;

    /// <summary>The index of a gain of the lattice.</summary>
    public int IndexOf(long gain) => (int)((gain - Bottom) / _unit);

    /// <summary>Whether any setting leads there.</summary>
    public bool IsReached(int index) => !double.IsPositiveInfinity(Power[index]);

    /// <summary>Keeps this way if it is quieter than the one known, or as quiet with more gain early.</summary>
    public void Offer(int index, double power, long early, int origin, int way, bool padIn)
    {
        var sum = early + At(index);
        if (power > Power[index] || (power.Equals(Power[index]) && sum <= Early[index]))
            return;
        Power[index] = power;
        Early[index] = sum;
        _origin[index] = origin;
        _way[index] = way;
        _padIn[index] = padIn;
    }

    /// <summary>Adds noise of a level at this point, given beside the source's peak.</summary>
    public void AddNoise(double? level)
    {
        if (level is not { } added)
            return;
        for (var index = 0; index < Length; index++)
        {
            if (IsReached(index))
                Power[index] += NoisePower.Of(added - At(index) / (double)ChainSteps.PerDecibel);
        }
    }

    /// <summary>The way that was kept.</summary>
    public (int Origin, int Way, bool PadIn) CameFrom(int index) => (_origin[index], _way[index], _padIn[index]);
}
