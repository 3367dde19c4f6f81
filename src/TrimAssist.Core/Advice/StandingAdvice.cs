namespace TrimAssist.Core.Advice;

/// <summary>
/// Advice that stands long enough to be read: a judgement at the edge of a rule comes and goes with every report. Only what
/// matters more takes its place at once. How long is common practice.
/// </summary>
/// <param name="Advice">What is said; <see langword="null"/> for nothing.</param>
/// <param name="Since">When it was first said, by the clock that nobody sets.</param>
/// <param name="HeldAt">When its condition was last seen to hold.</param>
public sealed record StandingAdvice(StageAdvice? Advice, TimeSpan Since, TimeSpan HeldAt)
{
    /// <summary>How long a sentence stands at least.</summary>
    public static readonly TimeSpan Least = TimeSpan.FromSeconds(10);

    /// <summary>How long its condition must have been gone before it goes.</summary>
    public static readonly TimeSpan Gone = TimeSpan.FromSeconds(5);

    /// <summary>Advice that begins to stand.</summary>
    public static StandingAdvice From(StageAdvice? advice, TimeSpan now) => new(advice, now, now);

    /// <summary>What stands once the evidence has been judged again.</summary>
    public StandingAdvice After(StageAdvice? judged, TimeSpan now)
    {
        if (Advice is null || judged?.Kind < Advice.Kind)
            return From(judged, now);
        var mayChange = now - Since >= Least;
        if (judged?.Kind == Advice.Kind && string.Equals(judged.Stage, Advice.Stage, StringComparison.Ordinal))
        {
            // The same with another figure is a new sentence; with the same words it stands on, on fresh evidence.
            return string.Equals(judged.Text, Advice.Text, StringComparison.Ordinal) ? this with { Advice = judged, HeldAt = now }
                : mayChange ? From(judged, now)
                : this with { HeldAt = now };
        }

        return mayChange && now - HeldAt >= Gone ? From(judged, now) : this;
    }
}
