using TrimAssist.Core.Chain;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Advice;

/// <summary>Noise that is heard: what moves with the trim comes from before it, what stays comes from behind it, and only more level before the noisy stage helps.</summary>
internal static class NoiseAdvice
{
    /// <summary>A loud passage this little over the noise is worth a word: common practice.</summary>
    private const double PoorDb = 30;

    /// <summary>No single turn of a knob is advised beyond this without a chain to show that there is room.</summary>
    private const double MostBlindDb = 12;

    public static StageAdvice? Of(InputEvidence evidence, HeardChain? heard)
    {
        if (evidence is not { GainDb: { } gain, Report.Loudest: { } loudest } || evidence.Stretches is not [.., { FloorDbfs: { } floor } present] || Math.Abs(present.GainDb - gain) > 0.5)
            return null;
        var ratio = (loudest.Level - new Dbfs(floor)).Value;
        if (ratio >= PoorDb || NoiseSplit.Of(evidence.Stretches) is not { } split)
            return null;
        List<string> seen =
        [
            $"the loud passage lies {ratio:0.#} dB over the noise",
            Heard(split.Lower),
            $"{Heard(split.Upper)}: it moved by {split.Upper.FloorDbfs - split.Lower.FloorDbfs:0.0} dB when the gain moved by {split.Upper.GainDb - split.Lower.GainDb:0.0} dB",
        ];
        AddWhatTheChainMakes(heard, floor, seen);
        var missing = Math.Min(MostBlindDb, Math.Ceiling(PoorDb - ratio));
        return split.ShareBefore(gain) >= 0.5 ? Before(heard, missing, seen) : Behind(evidence, heard, seen);
    }

    private static StageAdvice Before(HeardChain? heard, double missing, List<string> seen)
    {
        StageAdvice Say(string stage, double? by, Saying text) => new(AdviceKind.NoiseBeforeTrim, stage, by, text, seen);
        if (heard is not { Trim: { } trim, Chain: { Today: { } today } chain } || Noisiest(chain, today, 0, trim) is not { } noisy)
            return Say(AdviceSayings.TheSource, missing, AdviceSayings.HissSource(missing));
        if (noisy < 0)
            return Say(AdviceSayings.TheSource, null, AdviceSayings.HissSourceItself);
        var name = chain.Stages[noisy].Name;
        // Equivalent input noise is only passed over by what comes before the stage.
        var until = chain.Stages[noisy].Noise is { FollowsGain: true } ? noisy - 1 : Math.Min(noisy, trim - 1);
        if (StageMoves.Of(chain)?.FirstUp(until) is not { } move)
            return Say(name, null, AdviceSayings.HissNoRoom(name));
        var stage = chain.Stages[move.Stage].Name;
        var trimName = chain.Stages[trim].Name;
        return Say(stage, move.ByDb, move.Stage == noisy
            ? AdviceSayings.HissStageItself(stage, move.ByDb, trimName, name)
            : AdviceSayings.HissStage(stage, move.ByDb, trimName, name));
    }

    private static StageAdvice Behind(InputEvidence evidence, HeardChain? heard, List<string> seen)
    {
        StageAdvice Say(string stage, double? by, Saying text) => new(AdviceKind.NoiseAfterTrim, stage, by, text, seen);
        var trimName = heard is { Trim: { } index } ? Saying.Plain(heard.Chain.Stages[index].Name) : AdviceSayings.TheTrim;
        if (evidence is { Desk.Trim: { } control, Settings.Trim: { } now, WantedTrimDb: { } wanted } && Math.Floor(Math.Min(wanted, control.MaxDb) - now.Value) is >= 1 and var room)
            return Say(trimName, room, AdviceSayings.HissTrim(trimName, room));
        var behind = heard is { Trim: { } trim, Chain: { Today: { } today } chain } && Noisiest(chain, today, trim, chain.Stages.Count) is { } noisy and >= 0 ? Saying.Plain(chain.Stages[noisy].Name) : AdviceSayings.WhatFollows;
        return Say(behind, null, AdviceSayings.HissBehind(behind));
    }

    private static string Heard(GainStretch one) => $"noise at {one.FloorDbfs:0.0} dBFS with {one.GainDb:0.#} dB of gain";

    private static void AddWhatTheChainMakes(HeardChain? heard, double floor, List<string> seen)
    {
        if (heard is { Chain: { Today: { } today } chain } && ChainLevels.At(chain, today).Stages[^1].NoiseOut is { } noise && heard.AtTheConverter(noise) is { } promised)
            seen.Add($"by its figures the chain makes {promised}, {floor - promised.Value:+0.#;−0.#;0} dB to what is heard");
    }

    /// <summary>The stage whose noise is the largest at the end, among those from <paramref name="from"/> up to <paramref name="until"/>; −1 for the source; <see langword="null"/> where no figure is known.</summary>
    private static int? Noisiest(SignalChain chain, IReadOnlyList<StageSetting> today, int from, int until)
    {
        var levels = ChainLevels.At(chain, today).Stages;
        var last = levels[^1].PeakOut;
        List<(int Stage, double Level)> noises = [];
        if (from == 0 && chain.SourceNoise is { } source)
            noises.Add((-1, (source + (last - chain.Source)).Value));
        for (var index = from; index < Math.Min(until + 1, levels.Count); index++)
        {
            // At the trim itself, what follows its gain counts to what is before it, the rest to what is behind.
            var isBefore = chain.Stages[index].Noise is { FollowsGain: true };
            if (levels[index].OwnNoiseOut is { } own && (index != (from == 0 ? until : from) || isBefore == (from == 0)))
                noises.Add((index, (own + (last - levels[index].PeakOut)).Value));
        }

        return noises.Count == 0 ? null : noises.MaxBy(one => one.Level).Stage;
    }
}
