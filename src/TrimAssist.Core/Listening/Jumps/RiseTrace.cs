namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Takes what each rise weighed, so that the weights can be fitted and the trade-off drawn.</summary>
/// <param name="first">Takes what was known of a rise in its own frame, where it could have been worth a first word.</param>
/// <param name="judged">Takes what was known half a second later.</param>
public sealed class RiseTrace(RiseTrace.Taker first, RiseTrace.Taker judged)
{
    /// <summary>Takes one rise.</summary>
    /// <param name="timeS">When it began.</param>
    /// <param name="odds">The log-odds that it was a pop.</param>
    /// <param name="terms">What each term of the evidence weighed.</param>
    /// <param name="measures">Further measures of the rise and of what followed.</param>
    public delegate void Taker(double timeS, float odds, ReadOnlySpan<float> terms, ReadOnlySpan<float> measures);

    internal void TakeFirst(double timeS, float odds, ReadOnlySpan<float> terms) => first(timeS, odds, terms, []);

    internal void Take(double timeS, AfterRise m, float lengthDb, OtherInputs others, float usualRestDbfs, float odds, ReadOnlySpan<float> terms) =>
        judged(timeS, odds, terms, [m.Top, m.Rest, m.RestSpread, m.End, m.EndSpread, m.EndCrest, m.RestCrest, others.Rises, m.Fall, m.FallCrest, m.HumAfter, m.TailCrest, m.TailFall, m.TailRoughness, m.RestRmsSpread, m.EndRmsSpread, usualRestDbfs, m.SoonOverRestDb, lengthDb, m.LateDb, m.UpsDb, m.Lowest, m.LowestBefore, others.RiseDb, others.Spill, m.HumBefore, m.LowestCrest]);
}
