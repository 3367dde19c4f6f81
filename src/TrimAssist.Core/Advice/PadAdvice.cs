using TrimAssist.Core.Chain;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Advice;

/// <summary>A pad that was left in: the desk's own by its trim, another one by the level that is missing.</summary>
internal static class PadAdvice
{
    /// <summary>A trim this close to its top with the pad in makes up for the pad: common practice.</summary>
    private const double NearTopDb = 6;

    /// <summary>How near what is missing must come to what a pad takes.</summary>
    private const double MatchesDb = 4;

    /// <summary>Less than this is how differently people play.</summary>
    private const double LeastMissingDb = 8;

    public static StageAdvice? Of(InputEvidence evidence, HeardChain? heard) => OfDesk(evidence) ?? (heard is null ? null : OfChain(evidence, heard));

    private static StageAdvice? OfDesk(InputEvidence evidence)
    {
        if (evidence is not { Settings: { PadOn: true, Trim: { } now }, Desk: { Pad: { } pad, Trim: { } trim }, WantedTrimDb: { } wanted })
            return null;
        return wanted > trim.MaxDb - NearTopDb && now.Value > trim.MaxDb - NearTopDb && wanted - pad.PadDb >= trim.MinDb
            ? new(AdviceKind.PadLeftIn, AdviceSayings.ThePad, pad.PadDb, AdviceSayings.PadLeftIn(pad.PadDb, now.Value),
                [$"the pad is in", $"the target asks for {wanted:0.#} dB of trim, which ends at {trim.MaxDb:0.#} dB"])
            : null;
    }

    private static StageAdvice? OfChain(InputEvidence evidence, HeardChain heard)
    {
        // What the chain's own figures promise against what was heard.
        if (evidence.Chain is not { } told || heard.Chain is not { Today: { } today } || evidence.Report is { Prediction: null or { LowerBoundOnly: true } } or { FlatTop: true })
            return null;
        var promised = ChainLevels.At(heard.Chain with { Source = told.Source }, today).Stages[^1].PeakOut;
        if (heard.AtTheConverter(promised) is not { } expected)
            return null;
        var missing = (expected - evidence.Report.Prediction.Middle).Value;
        for (var index = 0; index < told.Stages.Count; index++)
        {
            if (index == heard.Trim || told.Stages[index] is not { Pad: { } pad } stage || stage.PadInNow || missing < LeastMissingDb || Math.Abs(missing - pad.Value) > MatchesDb)
                continue;
            return new(AdviceKind.PadLeftIn, stage.Name, pad.Value, AdviceSayings.PadLeftInAt(stage.Name, pad.Value),
                [$"the chain's figures promise a show peak at {expected}", $"what was heard says {evidence.Report.Prediction.Middle}, {missing:0.#} dB less"]);
        }

        return null;
    }
}
