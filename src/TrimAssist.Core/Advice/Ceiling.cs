using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;

namespace TrimAssist.Core.Advice;

/// <summary>A limit of a stage as it shows at the end of the chain: the level there at which the stage clips.</summary>
/// <param name="Stage">The stage's index.</param>
/// <param name="AtInput">Whether its input clips, not its output.</param>
/// <param name="AtEnd">The level at the chain's end.</param>
internal sealed record Ceiling(int Stage, bool AtInput, Dbu AtEnd)
{
    /// <summary>Every known limit of a chain at certain settings.</summary>
    public static IEnumerable<Ceiling> All(SignalChain chain, IReadOnlyList<StageSetting> settings)
    {
        var behind = Decibels.Zero;
        for (var index = chain.Stages.Count - 1; index >= 0; index--)
        {
            var stage = chain.Stages[index];
            var pad = settings[index].PadIn ? stage.Pad ?? Decibels.Zero : Decibels.Zero;
            if (stage.MaxOut is { } output)
                yield return new(index, false, output + behind);
            behind += settings[index].Gain - pad;
            if (stage.MaxIn is { } input)
                yield return new(index, true, input + pad + behind);
        }
    }
}
