namespace TrimAssist.Core.Listening.Levels;

/// <summary>The highest peak of each block of a tape.</summary>
internal static class BlockMaxima
{
    /// <summary>Works out the maxima in order of time; blocks without a reading are NaN.</summary>
    /// <param name="peak">Peaks by cell, NaN where there is none.</param>
    /// <param name="cellsPerBlock">Cells in a block.</param>
    public static double[] Of(ReadOnlySpan<double> peak, int cellsPerBlock)
    {
        var maxima = new double[(peak.Length + cellsPerBlock - 1) / cellsPerBlock];
        for (var block = 0; block < maxima.Length; block++)
        {
            var start = block * cellsPerBlock;
            maxima[block] = Highest(peak[start..Math.Min(start + cellsPerBlock, peak.Length)]);
        }

        return maxima;
    }

    private static double Highest(ReadOnlySpan<double> cells)
    {
        var highest = double.NaN;
        foreach (var cell in cells)
        {
            if (!(cell <= highest) && !double.IsNaN(cell))
                highest = cell;
        }

        return highest;
    }
}
