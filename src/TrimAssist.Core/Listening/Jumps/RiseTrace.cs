namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Takes what each judged rise weighed, so that the weights can be fitted and the trade-off drawn.</summary>
/// <param name="take">Called with the time, the log-odds, the terms and further measures of each judged rise.</param>
public sealed class RiseTrace(RiseTrace.Taker take)
{
    /// <summary>Takes one judged rise.</summary>
    /// <param name="timeS">When it began.</param>
    /// <param name="odds">The log-odds that it was a pop.</param>
    /// <param name="terms">What each term of the evidence weighed.</param>
    /// <param name="measures">Further measures of the rise and of what followed.</param>
    public delegate void Taker(double timeS, float odds, ReadOnlySpan<float> terms, ReadOnlySpan<float> measures);

    internal void Take(double timeS, AfterRise m, int others, float odds, ReadOnlySpan<float> terms) =>
        take(timeS, odds, terms, [m.Top, m.Rest, m.RestSpread, m.End, m.EndSpread, m.EndCrest, m.RestCrest, others, m.Fall, m.FallCrest, m.HumAfter, m.TailCrest, m.TailFall]);
}
