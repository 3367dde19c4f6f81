namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Weighs what half a second said about a rise: the natural log-odds that it was a pop and not a note.</summary>
/// <remarks>
/// Every term is a ramp from 0 to 1 between two figures of physics; the weights were fitted by logistic regression, acts left out one by
/// one (eng/accuracy-plots/fit.py).
/// </remarks>
internal static class PopEvidence
{
    /// <summary>Number of terms.</summary>
    public const int Terms = 23;

    private static ReadOnlySpan<float> Weights =>
    [
        1.28f, 0.28f, 3.77f, 2.11f, -0.92f, 1.48f, 1.68f, 1.72f, 1.27f, -1.66f, 0.52f, 1.24f, -1.35f, 1.89f, 0.43f, 5.46f, 2.68f, -1.90f, 1.76f, -1.28f,
        2.03f, 2.48f, 2.28f,
    ];

    private const float Bias = -6.02f;

    /// <summary>Frames that differ by more than this after a rise, or before it, are no hum.</summary>
    public const float HumAfterDb = 0.45f;

    public const float HumBeforeDb = 0.2f;

    /// <summary>
    /// What a bare bang weighs: far out of the rest and back within a tenth of a second. No rise of the labelled music does it (of 35 dB and
    /// more, in frames of 20, 50 and 100 ms), nor does any of their pops, so this one is set by hand.
    /// </summary>
    private const float BareBang = 8;

    /// <summary>Fills the terms of one rise; those of <see cref="WeighDear"/> at the most that they can say for a pop.</summary>
    /// <param name="m">What was measured.</param>
    /// <param name="habit">This input's onsets.</param>
    /// <param name="shape">The rise's shape.</param>
    /// <param name="overLoudestDb">Its peak over this input's loudest before.</param>
    /// <param name="usualRestDb">How quiet this input usually is; NaN where unknown.</param>
    /// <param name="still">How evenly the noise of electronics reads (see <see cref="StationaryNoise"/>).</param>
    /// <param name="terms">Where the terms go.</param>
    public static void Weigh(
        AfterRise m, RiseHabit habit, ReadOnlySpan<float> shape, float overLoudestDb, float usualRestDb, float still, Span<float> terms)
    {
        var rise = m.Top - m.Rest;
        var straight = m.Fall * Ramp.Of(m.FallCrest, 10.5f, 8.5f);
        var (nearest, third) = habit.Distance(shape);
        var below = Ramp.Of(m.Lowest - m.LowestBefore, -2, -10);
        terms[0] = Ramp.Of(straight, 18, 36);
        terms[1] = below;
        terms[2] = rise > 15 ? Ramp.Of(m.TailCrest, 6.5f, 5) * Ramp.Of(m.TailFall, 8, 13) * Ramp.Of(m.TailFall, 60, 40) * Ramp.Of(m.TailRoughness, 1.5f, 0.7f) : 0;
        terms[5] = Ramp.Of(m.RestSpread, 1.5f, 0.3f);
        terms[6] = habit.Known ? Ramp.Of(MathF.Log(Math.Max(third, 0.1f)), MathF.Log(2), MathF.Log(8)) : 0.5f;
        terms[7] = habit.Known ? Ramp.Of(MathF.Log(Math.Max(nearest, 0.1f)), MathF.Log(1.3f), MathF.Log(5.2f)) : 0.5f;
        terms[8] = Ramp.Of(m.Top, -45, -10);
        terms[9] = Ramp.Of(m.LateDb, 0, 12);
        terms[10] = Ramp.Of(m.LowestCrest, 8.5f, 5.5f);
        terms[11] = Ramp.Of(overLoudestDb, -3, 9);
        terms[12] = Ramp.Of(MathF.Log(Math.Max(m.UpsDb, 0.3f)), MathF.Log(0.3f), MathF.Log(30));
        terms[13] = float.IsNaN(usualRestDb) ? 0 : Ramp.Of(m.Rest - usualRestDb, -6, -20);
        terms[15] = Ramp.Of(m.HumAfter, HumAfterDb, 0.2f);
        terms[16] = Ramp.Of(m.HumBefore, HumBeforeDb, 0.1f);
        terms[18] = Ramp.Of(straight, 20, 36) * Math.Max(below, float.IsNaN(usualRestDb) ? 0 : Ramp.Of(m.Lowest - usualRestDb, -4, -12));
        terms[19] = Ramp.Of(m.RestRmsSpread, 0.8f, 2) * Ramp.Of(Math.Abs(m.End - m.Rest), 10, 4) * Ramp.Of(m.EndRmsSpread, 0.8f, 2);
        terms[20] = Ramp.Of(m.Fall, 20, 40) * Ramp.Of(m.FallCrest, 8.5f, 6.5f);
        terms[21] = Ramp.Of(m.TailFall, 60, 100) * Ramp.Of(m.TailRoughness, 4, 1.5f) * Ramp.Of(m.TailCrest, 8.5f, 6.5f);
        terms[22] = Ramp.Of(m.EndRmsSpread, 2 * still, still) * Ramp.Of(Math.Abs(m.End - m.Rest), 3, 8)
            * (float.IsNaN(usualRestDb) ? Ramp.Of(Math.Abs(m.End - m.Rest), 3, 8) : Ramp.Of(Math.Abs(m.End - usualRestDb), 3, 8)) * Ramp.Of(m.Top - m.End, 8, 15);
        WeighDear(m, float.NegativeInfinity, default, terms);
    }

    /// <summary>
    /// Fills the terms that cost most to measure. They speak loudest for a pop where it was as short as can be and nobody else did anything:
    /// no length and no other input make the odds higher than that.
    /// </summary>
    /// <param name="m">What was measured.</param>
    /// <param name="lengthDb">How much more than one bang there was (see <see cref="AfterRise.LengthDb"/>).</param>
    /// <param name="others">What the other inputs did in the same frame.</param>
    /// <param name="terms">Where the terms go.</param>
    public static void WeighDear(AfterRise m, float lengthDb, OtherInputs others, Span<float> terms)
    {
        terms[3] = Ramp.Of(m.Top - m.Rest, 35, 60) / (1 + (Math.Max(0, others.RiseDb) / 15));
        terms[4] = Ramp.Of(others.Rises, 1, 4);
        terms[14] = Ramp.Of(lengthDb, 5, 1.5f);
        terms[17] = others.Spill;
    }

    /// <summary>The log-odds that a rise was a pop.</summary>
    /// <param name="m">What was measured.</param>
    /// <param name="terms">Its terms.</param>
    public static float LogOdds(AfterRise m, ReadOnlySpan<float> terms)
    {
        var sum = Bias + (BareBang * Ramp.Of(m.Top - m.Rest, 30, 38) * Ramp.Of(m.SoonOverRestDb, 10, 6));
        for (var i = 0; i < Terms; i++)
            sum += Weights[i] * terms[i];
        return sum;
    }
}
