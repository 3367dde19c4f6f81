using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>A chain in whole thousandths of a decibel above its source, so that settings and limits compare exactly. Point k is the output of stage k and the input of stage k + 1; point 0 is the source.</summary>
internal sealed class ChainSteps
{
    /// <summary>How many of its units make one decibel.</summary>
    public const int PerDecibel = 1000;

    // A level that is a whole number of units but for the rounding of its arithmetic counts as one.
    private const double Crumb = 1e-6;

    private readonly long?[] _out;
    private readonly long?[] _in;

    public ChainSteps(SignalChain chain)
    {
        Chain = chain;
        Stages = [.. chain.Stages.Select(StageSteps.Of)];
        Target = Down((chain.Target - chain.Source).Value);
        _out = [.. chain.Stages.Select(stage => Limit(stage.MaxOut))];
        _in = [.. chain.Stages.Select(stage => Limit(stage.MaxIn))];
    }

    public SignalChain Chain { get; }

    public IReadOnlyList<StageSteps> Stages { get; }

    /// <summary>The wanted gain over all; nothing may end above it.</summary>
    public long Target { get; }

    /// <summary>Whether a gain over all lies on the target or less than the longest step of the chain under it.</summary>
    public bool IsNearTarget(long gain) => gain == Target || (gain < Target && Target - gain < Stages.Max(stage => stage.Step));

    /// <summary>The limit of a stage's input with its pad in or out.</summary>
    public long? LimitIn(int stage, bool padIn) => _in[stage] + (padIn ? Stages[stage].Pad : 0);

    /// <summary>The limit of a stage's output.</summary>
    public long? LimitOut(int stage) => _out[stage];

    /// <summary>Every ceiling at a point for the given pads; the target is one at the last point.</summary>
    public IEnumerable<(int Stage, bool AtInput, long Limit)> Ceilings(int point, bool[] pads)
    {
        if (point > 0 && LimitOut(point - 1) is { } output)
            yield return (point - 1, false, output);
        if (point < Stages.Count && LimitIn(point, pads[point]) is { } input)
            yield return (point, true, input);
    }

    private long? Limit(Dbu? limit) => limit is { } level ? Down((level - Chain.Headroom - Chain.Source).Value) : null;

    private static long Down(double decibels) => (long)Math.Floor(decibels * PerDecibel + Crumb);
}

/// <summary>One stage's settings in the same units.</summary>
internal readonly record struct StageSteps(long Min, long Max, long Step, long Pad)
{
    /// <summary>How many gains there are to choose from.</summary>
    public int Count => Step == 0 ? 1 : (int)((Max - Min) / Step) + 1;

    public static StageSteps Of(ChainStage stage)
    {
        var min = Whole(stage.MinGain);
        var max = Whole(stage.MaxGain);
        return new(min, max, min == max ? 0 : Whole(stage.Step), Whole(stage.Pad ?? Decibels.Zero));
    }

    /// <summary>The lowest and the highest gain through the stage.</summary>
    public (long Low, long High) Through(bool padIn) => padIn ? (Min - Pad, Max - Pad) : (Min, Max);

    private static long Whole(Decibels value) => (long)Math.Round(value.Value * ChainSteps.PerDecibel);
}
