using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;

namespace TrimAssist.Core.Advice;

/// <summary>An input's chain as it is heard to be: the desk's trim as the desk says it stands, the source as loud as it really was.</summary>
/// <param name="Chain">The chain.</param>
/// <param name="Trim">The index of the desk's trim; <see langword="null"/> where nothing in the chain can be turned.</param>
internal sealed record HeardChain(SignalChain Chain, int? Trim)
{
    /// <summary>The chain of an input; <see langword="null"/> where nobody told it.</summary>
    public static HeardChain? Of(InputEvidence evidence)
    {
        if (evidence.Chain is not { } told)
            return null;
        var trim = TrimOf(told);
        var chain = told with
        {
            Stages = [.. told.Stages.Select((stage, index) => index == trim ? AsTheDeskSays(stage, evidence) : stage)],
            Target = told.FullScale is { } full ? full + (evidence.Target - new Dbfs(0)) : told.Target,
        };
        return new(chain with { Source = SourceAsHeard(chain, evidence) ?? chain.Source }, trim);
    }

    /// <summary>What the chain's figures make of a level at the converter; <see langword="null"/> where it does not say what full scale is.</summary>
    public Dbu? AtTheEnd(Dbfs level) => Chain.FullScale is { } full ? full + (level - new Dbfs(0)) : null;

    /// <summary>A level at the end of the chain as the converter reads it.</summary>
    public Dbfs? AtTheConverter(Dbu level) => Chain.FullScale is { } full ? new Dbfs(0) + (level - full) : null;

    // Without a word about it, the last thing that can be turned is the desk's.
    private static int? TrimOf(SignalChain chain)
    {
        var stages = chain.Stages.ToList();
        var told = stages.FindIndex(stage => stage.IsDeskTrim);
        var last = told >= 0 ? told : stages.FindLastIndex(stage => stage.MinGain < stage.MaxGain);
        return last >= 0 ? last : null;
    }

    private static ChainStage AsTheDeskSays(ChainStage stage, InputEvidence evidence) => evidence.Desk.Trim is not { } trim ? stage : stage with
    {
        MinGain = new Decibels(trim.MinDb),
        MaxGain = new Decibels(trim.MaxDb),
        Step = new Decibels(trim.StepDb),
        Now = evidence.Settings.Trim ?? stage.Now,
        Pad = evidence.Desk.Pad is { } pad ? new Decibels(pad.PadDb) : stage.Pad,
        PadInNow = evidence.Settings.PadOn ?? stage.PadInNow,
    };

    private static Dbu? SourceAsHeard(SignalChain chain, InputEvidence evidence)
    {
        // A peak that was cut off says only how loud the source is at least.
        if (chain is not { FullScale: { } full, Today: { } today } || evidence.Report is { FlatTop: true } or { Prediction: null or { LowerBoundOnly: true } })
            return null;
        var through = ChainLevels.At(chain, today).Stages[^1].PeakOut - chain.Source;
        return full + (evidence.Report.Prediction.Middle - new Dbfs(0)) - through;
    }
}
