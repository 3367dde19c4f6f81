using TrimAssist.Core.Chain;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Advice;

/// <summary>Peaks that flatten below full scale: an earlier stage clips, and the trim cannot cure it.</summary>
internal static class ClippingAdvice
{
    /// <summary>How near a stage's limit must lie to where the peaks flatten to be taken for the cause: what a file says of a stage is seldom nearer.</summary>
    private const double MatchesDb = 3;

    /// <summary>How far to turn down where the chain asks for no headroom. How far it is over, nobody can read from a flat top: common practice.</summary>
    private const double UsualRoomDb = 6;

    /// <summary>Gains that lie closer do not tell whether the flat top moved.</summary>
    private const double LeastDifferenceDb = 3;

    private const double SameDb = 1;

    // What stands before the first stage.
    private const int TheSource = -1;

    public static StageAdvice? Of(InputEvidence evidence, HeardChain? heard)
    {
        if (evidence.Report is not { FlatTop: true, Peak: { } plateau })
            return null;
        List<string> seen = [$"the peaks pile up at {plateau}"];
        var moved = Moved(evidence.Stretches, seen);
        if (heard is { Chain.Today: { } today } && heard.AtTheEnd(plateau) is { } atEnd && Culprit(heard, today, atEnd, moved) is { } ceiling)
        {
            seen.Add($"{Place(heard.Chain, ceiling)} would flatten them at {heard.AtTheConverter(ceiling.AtEnd)} by its limit of {Limit(heard.Chain, ceiling)}");
            return Named(heard, today, ceiling, seen);
        }

        return moved == false
            ? new(AdviceKind.EarlierStageClips, AdviceSayings.WhatFollows, null, AdviceSayings.ClipsBehind, seen)
            : new(AdviceKind.EarlierStageClips, AdviceSayings.TheSource, -UsualRoomDb, AdviceSayings.ClipsBefore(UsualRoomDb), seen);
    }

    // A flat top that follows the trim was flat before it; one that stays is made behind it.
    private static bool? Moved(IReadOnlyList<GainStretch> stretches, List<string> seen)
    {
        var flat = stretches.Where(one => one.PlateauDbfs is not null).OrderBy(one => one.GainDb).ToList();
        if (flat.Count < 2 || flat[^1].GainDb - flat[0].GainDb is not (>= LeastDifferenceDb and var gain))
            return null;
        var by = flat[^1].PlateauDbfs!.Value - flat[0].PlateauDbfs!.Value;
        seen.Add($"they moved by {by:0.0} dB when the gain moved by {gain:0.0} dB");
        return Math.Abs(by - gain) <= SameDb ? true : Math.Abs(by) <= SameDb ? false : null;
    }

    private static Ceiling? Culprit(HeardChain heard, IReadOnlyList<StageSetting> today, Dbu plateau, bool? movedWithTrim)
    {
        var possible = Ceiling.All(heard.Chain, today).Where(one => movedWithTrim is not { } before || IsBefore(one, heard.Trim) == before).ToList();
        return possible.Where(one => Math.Abs((one.AtEnd - plateau).Value) <= MatchesDb).MinBy(one => Math.Abs((one.AtEnd - plateau).Value))
            // A limit above where the peaks flatten was never reached.
            ?? possible.Where(one => one.AtEnd < plateau).MaxBy(one => one.AtEnd);
    }

    private static bool IsBefore(Ceiling ceiling, int? trim) => ceiling.Stage < trim || (ceiling.Stage == trim && ceiling.AtInput);

    private static StageAdvice Named(HeardChain heard, IReadOnlyList<StageSetting> today, Ceiling ceiling, List<string> seen)
    {
        var chain = heard.Chain;
        var need = chain.Headroom.Value > 0 ? chain.Headroom.Value : UsualRoomDb;
        var stage = chain.Stages[ceiling.Stage];
        var why = ceiling.AtInput ? AdviceSayings.ClipsInput(stage.Name) : AdviceSayings.ClipsOutput(stage.Name);
        if (ceiling.AtInput && stage.Pad is { } pad && !today[ceiling.Stage].PadIn)
            return Advise(stage.Name, -pad.Value, AdviceSayings.ClipsPad(stage.Name, pad.Value, why), seen);
        for (var index = ceiling.AtInput ? ceiling.Stage - 1 : ceiling.Stage; index >= 0; index--)
        {
            var room = (today[index].Gain - chain.Stages[index].MinGain).Value;
            if (room < Math.Min(need, 1))
                continue;
            var by = Math.Min(need, room);
            return Advise(chain.Stages[index].Name, -by, Turn(heard, index, by, why), seen);
        }

        return Advise(AdviceSayings.TheSource, -need, Turn(heard, TheSource, need, why), seen);
    }

    private static StageAdvice Advise(string stage, double by, Saying text, List<string> seen) => new(AdviceKind.EarlierStageClips, stage, by, text, seen);

    private static Saying Turn(HeardChain heard, int turned, double by, Saying why)
    {
        Saying Called(int stage) => stage == TheSource ? AdviceSayings.TheSource : Saying.Plain(heard.Chain.Stages[stage].Name);
        return heard.Trim is { } trim && trim > turned
            ? AdviceSayings.ClipsTurnMakeUp(Called(turned), by, Called(trim), why)
            : AdviceSayings.ClipsTurn(Called(turned), by, why);
    }

    private static string Place(SignalChain chain, Ceiling ceiling) => $"the {(ceiling.AtInput ? "input" : "output")} of {chain.Stages[ceiling.Stage].Name}";

    private static Dbu? Limit(SignalChain chain, Ceiling ceiling) => ceiling.AtInput ? chain.Stages[ceiling.Stage].MaxIn : chain.Stages[ceiling.Stage].MaxOut;
}
