using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>Says in plain words which stage to touch, by how much, and what that buys.</summary>
internal static class ChainAdvice
{
    /// <summary>Differences below this cannot be heard and are not worth a sentence, in dB.</summary>
    private const double WorthSaying = 0.05;

    /// <summary>What finer steps must buy to be worth a sentence, in dB.</summary>
    private const double WorthAStep = 0.1;

    /// <summary>A stage whose noise is at least this part of the whole is named.</summary>
    private const double MostOfIt = 0.5;

    /// <summary>What to do to come from today's settings to the best ones, and what stands in the way of better.</summary>
    public static IEnumerable<string> OfPlan(SignalChain chain, IReadOnlyList<StageSetting> best, ChainLevels levels)
    {
        for (var index = 0; index < best.Count; index++)
        {
            if (Move(chain, best, levels, index) is { } sentence)
                yield return sentence;
        }

        var last = levels.Stages[^1].PeakOut;
        if ((chain.Target - last).Value >= WorthSaying)
            yield return $"The end lands {(chain.Target - last).Value:0.0#} dB under the target: the steps and limits allow no closer setting that is as quiet.";
        if (Noisiest(chain, levels) is { } noise)
            yield return noise;
        if (FinerSteps(chain, levels) is { } finer)
            yield return finer;
        foreach (var sentence in Doubts(chain))
            yield return sentence;
    }

    /// <summary>What today's settings do wrong.</summary>
    public static IEnumerable<string> OfToday(SignalChain chain, ChainLevels? today)
    {
        for (var index = 0; index < (today?.Stages.Count ?? 0); index++)
        {
            var stage = today!.Stages[index];
            if (stage.HeadroomIn is { Value: < 0 } input)
                yield return $"Today the input of {chain.Stages[index].Name} clips: its peak is {-input.Value:0.0} dB over its limit.";
            if (stage.HeadroomOut is { Value: < 0 } output)
                yield return $"Today the output of {chain.Stages[index].Name} clips: its peak is {-output.Value:0.0} dB over its limit.";
        }
    }

    private static string? Move(SignalChain chain, IReadOnlyList<StageSetting> best, ChainLevels levels, int index)
    {
        var stage = chain.Stages[index];
        if (stage.Today is not { } today || Same(today, best[index]))
            return null;
        var change = (best[index].Gain - today.Gain).Value;
        List<string> moves = [];
        if (today.PadIn != best[index].PadIn)
            moves.Add(best[index].PadIn ? $"put the pad in ({stage.Pad!.Value.Value:0.#} dB)" : $"take the pad out ({stage.Pad!.Value.Value:0.#} dB)");
        if (Math.Abs(change) > 0)
            moves.Add($"turn {(change > 0 ? "up" : "down")} by {Math.Abs(change):0.0#} dB, from {today.Gain.Value:0.0#} to {best[index].Gain.Value:0.0#} dB");
        return $"{stage.Name}: {string.Join(" and ", moves)}. {Worth(chain, levels, index, today)}";
    }

    private static string Worth(SignalChain chain, ChainLevels levels, int index, StageSetting today)
    {
        if (ChainPlanner.BestSettings(Fixed(chain, index, today)) is not { } without)
            return "Left as it is, no setting of the others keeps every limit and reaches the target.";
        if (levels.SignalToNoise is not { } with || ChainLevels.At(chain, without).SignalToNoise is not { } left)
            return "The others could make up for it; without noise figures nobody can say what it buys.";
        var bought = (with - left).Value;
        return bought < WorthSaying
            ? "The others could make up for it at no cost in signal-to-noise."
            : $"It buys {bought:0.0} dB of signal-to-noise over the best that the others could do without it.";
    }

    private static SignalChain Fixed(SignalChain chain, int index, StageSetting today)
    {
        // A pad that is in for good takes its loss from the gain and gives it to the input's limit; equivalent input noise stands behind it.
        var stage = chain.Stages[index];
        var pad = today.PadIn ? stage.Pad ?? Decibels.Zero : Decibels.Zero;
        var held = stage with
        {
            MinGain = today.Gain - pad,
            MaxGain = today.Gain - pad,
            Pad = null,
            MaxIn = stage.MaxIn + pad,
            Noise = stage.Noise is { FollowsGain: true } noise ? StageNoise.AtInput(noise.Level + pad) : stage.Noise,
        };
        return chain with { Stages = [.. chain.Stages.Select((one, at) => at == index ? held : one)] };
    }

    private static string? FinerSteps(SignalChain chain, ChainLevels levels)
    {
        if (SteplessOptimum.Of(new ChainSteps(chain)) is not { } stepless || ChainLevels.At(chain, stepless).SignalToNoise is not { } ratio)
            return null;
        var bought = (ratio - levels.SignalToNoise!.Value).Value;
        return bought < WorthAStep ? null : $"Finer steps would buy at most {bought:0.0} dB of signal-to-noise.";
    }

    private static string? Noisiest(SignalChain chain, ChainLevels levels)
    {
        if (levels.Stages[^1].NoiseOut is not { } total)
            return null;
        var last = levels.Stages[^1].PeakOut;
        // Each noise keeps its distance to the signal from where it enters to the end.
        var parts = levels.Stages
            .Select((stage, index) => (chain.Stages[index].Name, Noise: stage.OwnNoiseOut + (last - stage.PeakOut)))
            .Append((Name: "the source itself", Noise: chain.SourceNoise + (last - chain.Source)));
        var (name, noise) = parts.Where(part => part.Noise is not null).MaxBy(part => part.Noise!.Value.Value);
        var part = NoisePower.Of((noise!.Value - total).Value);
        return part >= MostOfIt ? $"{part:0 %} of the noise that is left comes from {name}." : null;
    }

    private static IEnumerable<string> Doubts(SignalChain chain)
    {
        var floor = ThermalNoise.Of(ThermalNoise.UsualSourceOhms);
        return chain.Stages
            .Where(stage => stage.Noise is { FollowsGain: true } noise && noise.Level < floor)
            .Select(stage => $"{stage.Name}: an equivalent input noise of {stage.Noise!.Value.Level} lies under the thermal noise of {ThermalNoise.UsualSourceOhms:0} ohms ({floor}); it must have been measured with a lower source resistance or a weighting.");
    }

    private static bool Same(StageSetting one, StageSetting other) =>
        one.PadIn == other.PadIn && Math.Abs((one.Gain - other.Gain).Value) * ChainSteps.PerDecibel < 0.5;
}
