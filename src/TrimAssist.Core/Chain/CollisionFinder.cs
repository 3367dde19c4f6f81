namespace TrimAssist.Core.Chain;

/// <summary>
/// Finds the limits that cannot hold together. Gains and ceilings are difference constraints on the cumulative gain, so
/// there are two ways to collide: the lowest gains up to a point exceed its ceiling, or the highest gains after a ceiling
/// miss the target.
/// </summary>
internal sealed class CollisionFinder(ChainSteps steps)
{
    /// <summary>The worst collision under the pads that make it smallest; <see langword="null"/> where stepless controls would fit.</summary>
    public ChainCollision? Find()
    {
        ChainCollision? smallest = null;
        foreach (var pads in PadChoices.Of(steps.Stages))
        {
            var collisions = TooHot(pads).Concat(TooLow(pads)).ToList();
            if (collisions.Count == 0)
                return null;
            var worst = collisions.MaxBy(collision => collision.ExcessDb)!;
            if (smallest is null || worst.ExcessDb < smallest.ExcessDb)
                smallest = worst;
        }

        return smallest;
    }

    private IEnumerable<ChainCollision> TooHot(bool[] pads)
    {
        var lowest = 0L;
        for (var point = 0; point <= steps.Stages.Count; point++)
        {
            if (point > 0)
                lowest += steps.Stages[point - 1].Through(pads[point - 1]).Low;
            foreach (var ceiling in steps.Ceilings(point, pads).Where(one => lowest > one.Limit))
            {
                yield return Collide(
                    lowest - ceiling.Limit,
                    [Source, .. Gains(0, point, ChainFigure.MinGain, pads), .. Ceiling(ceiling, pads)],
                    $"Even at the lowest gains the peak at {Place(ceiling.Stage, ceiling.AtInput)} comes",
                    "too high",
                    by => $"Bring the source down by {by}, or put that much loss before {Place(ceiling.Stage, ceiling.AtInput)}.");
            }
        }

        if (lowest > steps.Target)
        {
            yield return Collide(
                lowest - steps.Target,
                [Source, .. Gains(0, steps.Stages.Count, ChainFigure.MinGain, pads), Target],
                "Even at the lowest gains the last output's peak comes",
                "over the target",
                by => $"Bring the source down by {by}, or raise the target by as much.");
        }
    }

    private IEnumerable<ChainCollision> TooLow(bool[] pads)
    {
        var most = 0L;
        for (var point = steps.Stages.Count; point >= 0; point--)
        {
            if (point < steps.Stages.Count)
                most += steps.Stages[point].Through(pads[point]).High;
            foreach (var ceiling in steps.Ceilings(point, pads).Where(one => one.Limit + most < steps.Target))
            {
                yield return Collide(
                    steps.Target - ceiling.Limit - most,
                    [.. Ceiling(ceiling, pads), .. Gains(point, steps.Stages.Count, ChainFigure.MaxGain, pads), Target],
                    $"With the limit at {Place(ceiling.Stage, ceiling.AtInput)} kept, the last output's peak stays",
                    "under the target",
                    by => $"Lower the target by {by}, or {(point == steps.Stages.Count ? "keep that much less headroom there" : $"add that much gain after {Place(ceiling.Stage, ceiling.AtInput)}")}.");
            }
        }

        if (most < steps.Target)
        {
            yield return Collide(
                steps.Target - most,
                [Source, .. Gains(0, steps.Stages.Count, ChainFigure.MaxGain, pads), Target],
                "Even at the highest gains the last output's peak stays",
                "under the target",
                by => $"Bring the source up by {by}, or lower the target by as much.");
        }
    }

    private ChainLimit Source => new(null, ChainFigure.Source, steps.Chain.Source.Value);

    private ChainLimit Target => new(null, ChainFigure.Target, steps.Chain.Target.Value);

    private static ChainCollision Collide(long excess, IReadOnlyList<ChainLimit> limits, string start, string end, Func<string, string> remedy)
    {
        var decibels = excess / (double)ChainSteps.PerDecibel;
        return new(limits, decibels, $"{start} {decibels:0.0##} dB {end}.", remedy($"{decibels:0.0##} dB"));
    }

    private IEnumerable<ChainLimit> Ceiling((int Stage, bool AtInput, long Limit) ceiling, bool[] pads)
    {
        var stage = steps.Chain.Stages[ceiling.Stage];
        yield return ceiling.AtInput
            ? new ChainLimit(stage.Name, ChainFigure.MaxIn, stage.MaxIn!.Value.Value)
            : new ChainLimit(stage.Name, ChainFigure.MaxOut, stage.MaxOut!.Value.Value);
        if (ceiling.AtInput && pads[ceiling.Stage])
            yield return new ChainLimit(stage.Name, ChainFigure.Pad, stage.Pad!.Value.Value);
        if (steps.Chain.Headroom.Value > 0)
            yield return new ChainLimit(null, ChainFigure.Headroom, steps.Chain.Headroom.Value);
    }

    private IEnumerable<ChainLimit> Gains(int from, int to, ChainFigure figure, bool[] pads)
    {
        for (var index = from; index < to; index++)
        {
            var stage = steps.Chain.Stages[index];
            yield return new ChainLimit(stage.Name, figure, (figure == ChainFigure.MinGain ? stage.MinGain : stage.MaxGain).Value);
            if (pads[index])
                yield return new ChainLimit(stage.Name, ChainFigure.Pad, stage.Pad!.Value.Value);
        }
    }

    private string Place(int stage, bool atInput) => $"the {(atInput ? "input" : "output")} of {steps.Chain.Stages[stage].Name}";
}
