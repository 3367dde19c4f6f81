using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Advice;

/// <summary>A trim that would have to go beyond its range, or stands so near its top that nothing is left for a softer night.</summary>
internal static class TrimEndAdvice
{
    /// <summary>A trim this near to its top is at its end: common practice.</summary>
    private const double NearDb = 3;

    /// <summary>How much to leave to go: common practice.</summary>
    private const double ReserveDb = 6;

    public static StageAdvice? Of(InputEvidence evidence, HeardChain? heard)
    {
        if (evidence is not { Desk.Trim: { } trim, WantedTrimDb: { } wanted, Settings.Trim: { } now, Report.Prediction: { } show })
            return null;
        List<string> seen = [$"the trim stands at {now.Value:0.#} dB of {trim.MinDb:0.#} to {trim.MaxDb:0.#} dB", $"the target asks for {wanted:0.#} dB"];
        if (wanted < trim.MinDb)
            return Down(evidence, trim.MinDb - wanted, seen);
        // A clipped check asks for less than it says: nothing is to be turned up on its word.
        return wanted > trim.MaxDb - NearDb && now.Value > trim.MaxDb - NearDb && !show.LowerBoundOnly ? Up(heard, wanted - (trim.MaxDb - ReserveDb), seen) : null;
    }

    private static StageAdvice Down(InputEvidence evidence, double over, List<string> seen) => evidence is { Desk.Pad: { } pad, Settings.PadOn: false }
        ? new(AdviceKind.TrimAtItsEnd, AdviceSayings.ThePad, -pad.PadDb, AdviceSayings.EndPad(pad.PadDb, over), seen)
        : new(AdviceKind.TrimAtItsEnd, AdviceSayings.TheSource, -over, AdviceSayings.EndDown(Math.Ceiling(over)), seen);

    private static StageAdvice Up(HeardChain? heard, double missing, List<string> seen)
    {
        var by = Math.Ceiling(missing);
        if (heard is { Trim: { } desk } && StageMoves.Of(heard.Chain) is { } moves)
        {
            if (moves.FirstUp(desk - 1) is not { } move)
                return new(AdviceKind.TrimAtItsEnd, AdviceSayings.TheSource, by, AdviceSayings.EndUpNoRoom(by), seen);
            by = Math.Min(by, move.ByDb);
            return new(AdviceKind.TrimAtItsEnd, heard.Chain.Stages[move.Stage].Name, by, AdviceSayings.EndUpStage(heard.Chain.Stages[move.Stage].Name, by), seen);
        }

        return new(AdviceKind.TrimAtItsEnd, AdviceSayings.TheSource, by, AdviceSayings.EndUp(by), seen);
    }
}
