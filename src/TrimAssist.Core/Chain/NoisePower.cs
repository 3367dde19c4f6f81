using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>Sums of noises that know nothing of each other: their powers add.</summary>
internal static class NoisePower
{
    /// <summary>The sum of two noises; an absent one adds nothing.</summary>
    public static Dbu? Sum(Dbu? one, Dbu? other) => (one, other) switch
    {
        ({ } a, { } b) => new Dbu(10 * Math.Log10(Of(a.Value) + Of(b.Value))),
        _ => one ?? other,
    };

    /// <summary>A level as a power relative to 0 dB.</summary>
    public static double Of(double level) => Math.Pow(10, level / 10);
}
