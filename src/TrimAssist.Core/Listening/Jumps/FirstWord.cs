namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Decides with the very frame that jumped whether to speak before anything is known of what follows.</summary>
/// <remarks>
/// The weights were fitted by logistic regression with acts left out one by one (eng/accuracy-plots/fit.py --first); a first word that
/// half a second does not bear out is taken back.
/// </remarks>
internal static class FirstWord
{
    /// <summary>Number of terms.</summary>
    public const int Terms = 6;

    /// <summary>A rise to this level can hurt ears and drivers.</summary>
    public const float HurtsDbfs = -22;

    /// <summary>The least jump over the second before that is worth a word before it is understood.</summary>
    public const float StartlesDb = 15;

    /// <summary>An onset within this of a remembered one is like it.</summary>
    private const float UsualDb = 3;

    private static ReadOnlySpan<float> Weights => [1.25f, 2.23f, 2.03f, 4.23f, 0.79f, -2.28f];

    private const float Bias = -1.71f;

    /// <summary>Whether the newest frame is worth a word if it bears out; the terms are only weighed where it is.</summary>
    public static bool Matters(float peak, float jump) => peak >= HurtsDbfs && jump >= StartlesDb;

    /// <summary>Fills the terms of a rise that has just begun.</summary>
    /// <param name="h">The readings.</param>
    /// <param name="hum">What hears the hum of an open plug in them.</param>
    /// <param name="habit">This input's onsets.</param>
    /// <param name="peak">The peak it has reached.</param>
    /// <param name="jump">Its rise over the second before.</param>
    /// <param name="before">The newest frame before the rise: 0 where the rise itself is not among the readings yet.</param>
    /// <param name="loudest">This input's loudest before.</param>
    /// <param name="usualRestDbfs">How quiet this input usually is; NaN where unknown.</param>
    /// <param name="terms">Where the terms go.</param>
    public static void Weigh(RecentReadings h, Hum hum, RiseHabit habit, float peak, float jump, int before, float loudest, float usualRestDbfs, Span<float> terms)
    {
        var half = h.Frames(AfterRise.WatchS);
        var rest = h.Median(before, half);
        terms[0] = Ramp.Of(peak - rest, 30, 60);
        terms[1] = Ramp.Of(peak - loudest, -3, 9);
        terms[2] = Ramp.Of(h.Spread(before, half), 1.5f, 0.3f);
        terms[3] = Ramp.Of(hum.Repeats(before + 1, h.Held(before + 1, half), RecentReadings.Silence, PopEvidence.HumBeforeDb), PopEvidence.HumBeforeDb, 0.1f);
        terms[4] = float.IsNaN(usualRestDbfs) ? 0 : Ramp.Of(rest - usualRestDbfs, -6, -20);
        terms[5] = habit.Alike(peak, jump, UsualDb) / (float)RiseHabit.KnownFrom;
    }

    /// <summary>The log-odds of the terms.</summary>
    public static float LogOdds(ReadOnlySpan<float> terms)
    {
        var sum = Bias;
        for (var i = 0; i < Terms; i++)
            sum += Weights[i] * terms[i];
        return sum;
    }
}
