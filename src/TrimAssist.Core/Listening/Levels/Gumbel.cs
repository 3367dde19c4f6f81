namespace TrimAssist.Core.Listening.Levels;

/// <summary>The law of the highest of many alike (Gumbel 1958): F(x) = exp(−exp(−(x − location) / scale)).</summary>
internal static class Gumbel
{
    /// <summary>The standard deviation of the highest: π/√6 scales.</summary>
    public static double Deviation(double scale) => Math.PI / Math.Sqrt(6) * scale;

    /// <summary>How much the highest rises over a stretch <paramref name="times"/> as long: the location rises by scale × ln times, the scale stays.</summary>
    public static double Growth(double scale, double times) => scale * Math.Log(times);
}
