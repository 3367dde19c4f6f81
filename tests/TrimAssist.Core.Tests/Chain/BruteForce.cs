using TrimAssist.Core.Chain;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>Tries every setting of a small chain, written without the planner's arithmetic: plain decibels, limits compared with a crumb of tolerance.</summary>
internal sealed class BruteForce(SignalChain chain)
{
    private const double Crumb = 1e-6;

    /// <summary>The best ratio of the settings that end less than the longest step under the target; absent where there is none.</summary>
    public double? BestNear { get; private set; }

    /// <summary>The highest end under the target of all settings that keep every limit.</summary>
    public double? NearestEnd { get; private set; }

    public static BruteForce Over(SignalChain chain)
    {
        var all = new BruteForce(chain);
        all.Try(0, chain.Source.Value, chain.SourceNoise is { } noise ? Math.Pow(10, noise.Value / 10) : 0);
        return all;
    }

    /// <summary>Whether these settings keep every limit, by the same plain arithmetic.</summary>
    public static bool Keeps(SignalChain chain, IReadOnlyList<StageSetting> settings)
    {
        var level = chain.Source.Value;
        for (var index = 0; index < settings.Count; index++)
        {
            var stage = chain.Stages[index];
            var pad = settings[index].PadIn ? stage.Pad!.Value.Value : 0;
            if (!Fits(level, stage.MaxIn?.Value + pad, chain))
                return false;
            level += settings[index].Gain.Value - pad;
            if (!Fits(level, stage.MaxOut?.Value, chain))
                return false;
        }

        return level <= chain.Target.Value + Crumb;
    }

    private void Try(int index, double level, double noise)
    {
        if (index == chain.Stages.Count)
        {
            Take(level, noise);
            return;
        }

        var stage = chain.Stages[index];
        foreach (var pad in stage.Pad is { } loss ? [0, loss.Value] : new[] { 0.0 })
        {
            if (!Fits(level, stage.MaxIn?.Value + pad, chain))
                continue;
            for (var step = 0; stage.MinGain.Value + step * stage.Step.Value <= stage.MaxGain.Value + Crumb; step++)
            {
                var gain = stage.MinGain.Value + step * stage.Step.Value;
                var next = level + gain - pad;
                if (Fits(next, stage.MaxOut?.Value, chain))
                    Try(index + 1, next, noise * Math.Pow(10, (gain - pad) / 10) + Added(stage, gain));
                if (stage.MinGain == stage.MaxGain)
                    break;
            }
        }
    }

    private void Take(double level, double noise)
    {
        if (level > chain.Target.Value + Crumb)
            return;
        var ratio = noise > 0 ? level - 10 * Math.Log10(noise) : double.PositiveInfinity;
        NearestEnd = Math.Max(NearestEnd ?? double.NegativeInfinity, level);
        var longest = chain.Stages.Where(stage => stage.MaxGain > stage.MinGain).Select(stage => stage.Step.Value).DefaultIfEmpty(0).Max();
        if (chain.Target.Value - level < longest - Crumb || Math.Abs(chain.Target.Value - level) <= Crumb)
            BestNear = Math.Max(BestNear ?? double.NegativeInfinity, ratio);
    }

    private static double Added(ChainStage stage, double gain) => stage.Noise switch
    {
        { FollowsGain: true } noise => Math.Pow(10, (noise.Level.Value + gain) / 10),
        { } noise => Math.Pow(10, noise.Level.Value / 10),
        null => 0,
    };

    private static bool Fits(double level, double? limit, SignalChain chain) => limit is not { } ceiling || level <= ceiling - chain.Headroom.Value + Crumb;
}
