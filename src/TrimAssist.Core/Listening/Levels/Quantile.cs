namespace TrimAssist.Core.Listening.Levels;

/// <summary>Sample quantiles after Hyndman and Fan (1996), method R7: the value at rank 1 + (n − 1) p, between neighbours in proportion.</summary>
internal static class Quantile
{
    /// <summary>The quantile of numbers sorted upwards; NaN of none.</summary>
    /// <param name="sorted">The numbers, lowest first.</param>
    /// <param name="p">Which quantile, 0 to 1.</param>
    public static double OfSorted(ReadOnlySpan<double> sorted, double p)
    {
        if (sorted.IsEmpty)
            return double.NaN;
        var rank = Math.Clamp(p, 0, 1) * (sorted.Length - 1);
        var below = (int)Math.Floor(rank);
        var above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + (rank - below) * (sorted[above] - sorted[below]);
    }

    /// <summary>The quantile of numbers in any order; NaN among them are left out.</summary>
    public static double Of(ReadOnlySpan<double> numbers, double p) => OfSorted(Sorted(numbers), p);

    /// <summary>The numbers sorted upwards, NaN left out.</summary>
    public static double[] Sorted(ReadOnlySpan<double> numbers)
    {
        var kept = new double[numbers.Length];
        var count = 0;
        foreach (var number in numbers)
        {
            if (!double.IsNaN(number))
                kept[count++] = number;
        }

        Array.Resize(ref kept, count);
        Array.Sort(kept);
        return kept;
    }
}
