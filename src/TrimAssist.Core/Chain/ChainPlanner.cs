namespace TrimAssist.Core.Chain;

/// <summary>Finds the settings with the best signal-to-noise ratio that keep every limit and end on the target, or less than one step under it.</summary>
public static class ChainPlanner
{
    /// <summary>Plans a chain.</summary>
    /// <exception cref="ArgumentException">The chain has no stages, too many pads, or steps so fine that they cannot all be searched.</exception>
    public static ChainAnswer Plan(SignalChain chain)
    {
        ArgumentNullException.ThrowIfNull(chain);
        if (TooMuch(chain) is { } reason)
            throw new ArgumentException(reason, nameof(chain));
        var today = chain.Today is { } settings ? ChainLevels.At(chain, settings) : null;
        return Settle(chain) switch
        {
            { Settings: { } best } => Planned(chain, best, today),
            { Collision: { } collision } => new ChainInfeasible(collision, today, [collision.Text, collision.Remedy, .. ChainAdvice.OfToday(chain, today)]),
            _ => throw new InvalidOperationException("A chain either fits or collides."),
        };
    }

    /// <summary>Why a chain is too much for an exact search, as one sentence; <see langword="null"/> where it is not.</summary>
    public static string? TooMuch(SignalChain chain)
    {
        ArgumentNullException.ThrowIfNull(chain);
        if (chain.Stages.Count == 0)
            return "A chain has at least one stage.";
        if (chain.Stages.Count(stage => stage.Pad is not null) > PadChoices.MostPads)
            return $"A chain has at most {PadChoices.MostPads} pads.";
        return SettingSearch.Work(new ChainSteps(chain)) > SettingSearch.MostWork
            ? "The steps are too fine for ranges so wide to try them all; use coarser steps or fewer decimals."
            : null;
    }

    /// <summary>The best settings without words about them; <see langword="null"/> where none fits.</summary>
    internal static IReadOnlyList<StageSetting>? BestSettings(SignalChain chain) => Settle(chain).Settings;

    private static (IReadOnlyList<StageSetting>? Settings, ChainCollision? Collision) Settle(SignalChain chain)
    {
        var steps = new ChainSteps(chain);
        var collision = new CollisionFinder(steps).Find();
        var settings = SettingSearch.Best(steps, further: collision is null);
        return settings is null ? (null, collision) : (settings, null);
    }

    private static ChainPlan Planned(SignalChain chain, IReadOnlyList<StageSetting> best, ChainLevels? today)
    {
        var levels = ChainLevels.At(chain, best);
        return new ChainPlan(best, levels, ClipPoint.First(levels), today, [.. ChainAdvice.OfPlan(chain, best, levels), .. ChainAdvice.OfToday(chain, today)]);
    }
}
