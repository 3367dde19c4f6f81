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

    /// <summary>The quantile of numbers in any order; NaN among them are left out. Takes time in proportion to their count.</summary>
    public static double Of(ReadOnlySpan<double> numbers, double p)
    {
        var kept = Kept(numbers);
        if (kept.IsEmpty)
            return double.NaN;
        var rank = Math.Clamp(p, 0, 1) * (kept.Length - 1);
        var below = (int)Math.Floor(rank);
        Select(kept, below);
        var above = below + 1 < kept.Length ? Lowest(kept[(below + 1)..]) : kept[below];
        return kept[below] + (rank - below) * (above - kept[below]);
    }

    /// <summary>The numbers sorted upwards, NaN left out.</summary>
    public static double[] Sorted(ReadOnlySpan<double> numbers)
    {
        var kept = Kept(numbers);
        kept.Sort();
        return kept.ToArray();
    }

    private static Span<double> Kept(ReadOnlySpan<double> numbers)
    {
        var kept = new double[numbers.Length];
        var count = 0;
        foreach (var number in numbers)
        {
            if (!double.IsNaN(number))
                kept[count++] = number;
        }

        return kept.AsSpan(0, count);
    }

    // Hoare's selection (1961): puts the number of that rank in its place, none above it before it and none below it behind it.
    private static void Select(Span<double> numbers, int rank)
    {
        var (low, high) = (0, numbers.Length - 1);
        while (low < high)
        {
            var pivot = Median(numbers[low], numbers[low + (high - low) / 2], numbers[high]);
            var (left, right) = (low, high);
            while (left <= right)
            {
                while (numbers[left] < pivot)
                    left++;
                while (numbers[right] > pivot)
                    right--;
                if (left > right)
                    break;
                (numbers[left], numbers[right]) = (numbers[right], numbers[left]);
                left++;
                right--;
            }

            if (rank <= right)
                high = right;
            else if (rank >= left)
                low = left;
            else
                return;
        }
    }

    private static double Median(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));

    private static double Lowest(ReadOnlySpan<double> numbers)
    {
        var lowest = double.PositiveInfinity;
        foreach (var number in numbers)
            lowest = Math.Min(lowest, number);
        return lowest;
    }
}
