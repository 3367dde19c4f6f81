using System.Runtime.Intrinsics;

namespace TrimAssist.Audio.Loudness;

/// <summary>Outputs of a filter so faint that only slow denormal arithmetic would follow from them.</summary>
internal static class Faint
{
    private const double Least = 1e-30;

    /// <summary>The values, the faint ones made 0.</summary>
    public static Vector256<double> Removed(Vector256<double> values)
        => Vector256.ConditionalSelect(Vector256.GreaterThan(Vector256.Abs(values), Vector256.Create(Least)), values, default);
}
