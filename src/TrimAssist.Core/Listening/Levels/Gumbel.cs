namespace TrimAssist.Core.Listening.Levels;

/// <summary>The law of the highest of many alike (Gumbel 1958): F(x) = exp(−exp(−(x − location) / scale)).</summary>
/// <param name="Location">Its mode.</param>
/// <param name="Scale">Its spread.</param>
internal readonly record struct Gumbel(double Location, double Scale)
{
    /// <summary>Euler's constant: the mean lies that many scales above the location.</summary>
    public const double Euler = 0.5772156649015329;

    /// <summary>The mean.</summary>
    public double Mean => Location + Euler * Scale;

    /// <summary>The median.</summary>
    public double Median => Quantile(0.5);

    /// <summary>The standard deviation, π/√6 scales.</summary>
    public double Deviation => Math.PI / Math.Sqrt(6) * Scale;

    /// <summary>The value that is not passed with probability <paramref name="p"/>.</summary>
    public double Quantile(double p) => Location - Scale * Math.Log(-Math.Log(p));

    /// <summary>The level passed once in <paramref name="blocks"/> blocks.</summary>
    public double ReturnLevel(double blocks) => Quantile(1 - 1 / blocks);

    /// <summary>The law of the highest over a stretch <paramref name="times"/> as long: the location rises by scale × ln times, the scale stays.</summary>
    public Gumbel Over(double times) => new(Location + Growth(Scale, times), Scale);

    /// <summary>How much the highest rises over a stretch <paramref name="times"/> as long.</summary>
    public static double Growth(double scale, double times) => scale * Math.Log(times);

    /// <summary>Fits by moments: scale = s √6/π, location = mean − 0.5772 scale (NIST/SEMATECH e-Handbook 1.3.6.6.16).</summary>
    /// <param name="maxima">Two or more block maxima.</param>
    public static Gumbel Fit(ReadOnlySpan<double> maxima)
    {
        if (maxima.Length < 2)
            throw new ArgumentException("two or more maxima are needed", nameof(maxima));
        double sum = 0;
        foreach (var x in maxima)
            sum += x;
        var mean = sum / maxima.Length;
        double squares = 0;
        foreach (var x in maxima)
            squares += (x - mean) * (x - mean);
        var scale = Math.Sqrt(squares / (maxima.Length - 1) * 6) / Math.PI;
        return new Gumbel(mean - Euler * scale, scale);
    }
}
