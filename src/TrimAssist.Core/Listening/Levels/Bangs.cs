namespace TrimAssist.Core.Listening.Levels;

/// <summary>Finds the seconds that are louder than this input's playing: pops, crackle, thumps, feedback, a pad left out for a moment.</summary>
/// <remarks>The loudest seconds of playing lie close together (a few dB from one to the next); bangs stand alone above a gap. Whatever a jump detector has already cut out is not seen here.</remarks>
internal static class Bangs
{
    /// <summary>Width of the gap in dB.</summary>
    public const double GapDb = 5;

    /// <summary>Largest share of the seconds that can be bangs: what happens more often is the input's playing.</summary>
    public const double Share = 0.12;

    /// <summary>Returns the tape with the seconds above the gap cut out.</summary>
    public static TapeCopy CutOut(TapeCopy tape)
    {
        var perBlock = tape.Cells(1);
        var blocks = BlockMaxima.Of(tape.Peak, perBlock);
        var limit = Limit(Quantile.Sorted(blocks));
        if (!blocks.Any(block => block > limit))
            return tape;
        var (peak, energy) = ((double[])tape.Peak.Clone(), (double[])tape.Energy.Clone());
        for (var block = 0; block < blocks.Length; block++)
        {
            if (!(blocks[block] > limit))
                continue;
            var (start, length) = (block * perBlock, Math.Min(perBlock, peak.Length - block * perBlock));
            peak.AsSpan(start, length).Fill(double.NaN);
            energy.AsSpan(start, length).Fill(double.NaN);
        }

        return tape with { Peak = peak, Energy = energy };
    }

    /// <summary>The level above which a second is no playing: the lowest block under the lowest wide gap among the loudest.</summary>
    /// <param name="sorted">Block maxima, lowest first.</param>
    public static double Limit(ReadOnlySpan<double> sorted)
    {
        var suspects = Math.Min((int)(Share * sorted.Length), sorted.Length - 1);
        for (var bangs = suspects; bangs > 0; bangs--)
        {
            if (sorted[^bangs] - sorted[^(bangs + 1)] >= GapDb)
                return sorted[^(bangs + 1)];
        }

        return double.PositiveInfinity;
    }
}
