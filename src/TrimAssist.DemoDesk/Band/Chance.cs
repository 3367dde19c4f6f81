namespace TrimAssist.DemoDesk.Band;

/// <summary>
/// A small random source (SplitMix64, Steele, Lea and Flood 2014) that gives the same numbers on every machine and runtime.
/// </summary>
internal sealed class Chance(ulong seed)
{
    private ulong _state = seed;

    /// <summary>A source of its own for a named part, so that parts do not disturb one another.</summary>
    public static Chance For(ulong seed, string part)
    {
        // FNV-1a: stable across runs, unlike string hashes of the runtime.
        var hash = 14695981039346656037UL;
        foreach (var letter in part)
            hash = (hash ^ letter) * 1099511628211UL;
        return new Chance(seed ^ hash);
    }

    /// <summary>Evenly in [0, 1).</summary>
    public double Unit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Evenly between two numbers.</summary>
    public double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>Normal with mean 0 (Box and Muller 1958).</summary>
    public double Normal(double deviation) =>
        deviation * Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());

    private ulong Next()
    {
        _state += 0x9E3779B97F4A7C15UL;
        var mixed = _state;
        mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9UL;
        mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL;
        return mixed ^ (mixed >> 31);
    }
}
