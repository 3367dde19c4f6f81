namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Weighs what half a second said about a rise: the natural log-odds that it was a pop and not a note.</summary>
/// <remarks>
/// Every term is a ramp from 0 to 1 between two figures of physics; the weights were fitted by logistic regression, acts left out one by
/// one (eng/accuracy-plots/fit.py).
/// </remarks>
internal static class PopEvidence
{
    /// <summary>Number of terms.</summary>
    public const int Terms = 16;

    private static ReadOnlySpan<float> Weights => [2, 1.3f, 2.4f, 1, 1.8f, 1.7f, 1.4f, -1.7f, 2, 1.5f, 1.7f, 0.7f, -2, 0.6f, 1, -1.3f];

    private const float Bias = -9f;

    /// <summary>Fills the terms of one rise.</summary>
    /// <param name="m">What was measured.</param>
    /// <param name="habit">This input's onsets.</param>
    /// <param name="shape">The rise's shape.</param>
    /// <param name="othersRiseDb">What other inputs rose by in the same frame, summed.</param>
    /// <param name="othersRising">How many rises others made.</param>
    /// <param name="overLoudestDb">Its peak over this input's loudest before.</param>
    /// <param name="terms">Where the terms go.</param>
    public static void Weigh(
        AfterRise m, RiseHabit habit, ReadOnlySpan<float> shape, float othersRiseDb, int othersRising, float overLoudestDb, Span<float> terms)
    {
        var rise = m.Top - m.Rest;
        var straight = m.Fall * Ramp(m.FallCrest, 10.5f, 8.5f);
        var alone = 1 / (1 + (Math.Max(0, othersRiseDb) / 15));
        var (nearest, third) = habit.Distance(shape);
        terms[0] = Ramp(straight, 18, 36);
        terms[1] = Ramp(straight / Math.Max(15, rise), 0.45f, 0.85f);
        terms[2] = Ramp(m.Stillness, 0.5f, 0.25f) * Ramp(othersRising, 4, 2);
        terms[3] = Ramp(m.Lowest - m.LowestBefore, -2, -10);
        terms[4] = rise > 20 && m.TailFall is > 4 and < 90 ? Ramp(m.TailCrest, 6, 5) : 0;
        terms[5] = Ramp(rise, 35, 60);
        terms[6] = terms[5] * alone;
        terms[7] = Ramp(othersRising, 1, 4);
        terms[8] = Ramp(m.RestSpread, 1.5f, 0.3f);
        terms[9] = habit.Known ? Ramp(MathF.Log(Math.Max(third, 0.1f)), MathF.Log(2), MathF.Log(8)) : 0.5f;
        terms[10] = habit.Known ? Ramp(MathF.Log(Math.Max(nearest, 0.1f)), MathF.Log(1.3f), MathF.Log(5.2f)) : 0.5f;
        terms[11] = Ramp(m.Top, -45, -10);
        terms[12] = Ramp(m.LateDb, 0, 12);
        terms[13] = Ramp(m.LowestCrest, 8.5f, 5.5f);
        terms[14] = Ramp(overLoudestDb, -3, 9);
        terms[15] = Ramp(MathF.Log(Math.Max(m.UpsDb, 0.3f)), MathF.Log(0.3f), MathF.Log(30));
    }

    /// <summary>The log-odds of the terms.</summary>
    public static float LogOdds(ReadOnlySpan<float> terms)
    {
        var sum = Bias;
        for (var i = 0; i < Terms; i++)
            sum += Weights[i] * terms[i];
        return sum;
    }

    /// <summary>0 at <paramref name="from"/>, 1 at <paramref name="to"/>, straight between, level beyond.</summary>
    private static float Ramp(float value, float from, float to) => Math.Clamp((value - from) / (to - from), 0, 1);
}
