using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>The levels at one stage.</summary>
/// <param name="PeakIn">The loudest peak at its input, before the pad.</param>
/// <param name="PeakOut">The loudest peak at its output.</param>
/// <param name="HeadroomIn">How far the input is from clipping; <see langword="null"/> without a known limit.</param>
/// <param name="HeadroomOut">How far the output is from clipping; <see langword="null"/> without a known limit.</param>
/// <param name="OwnNoiseOut">What the stage itself adds at its output.</param>
/// <param name="NoiseOut">All noise at its output; <see langword="null"/> while nothing makes any.</param>
public sealed record StageLevels(Dbu PeakIn, Dbu PeakOut, Decibels? HeadroomIn, Decibels? HeadroomOut, Dbu? OwnNoiseOut, Dbu? NoiseOut)
{
    /// <summary>How far the nearer of input and output is from clipping.</summary>
    public Decibels? Headroom => (HeadroomIn, HeadroomOut) switch
    {
        ({ } input, { } output) => input < output ? input : output,
        _ => HeadroomIn ?? HeadroomOut,
    };
}

/// <summary>The levels along a chain at certain settings.</summary>
/// <param name="Stages">One for each stage.</param>
/// <param name="SignalToNoise">The loudest peak over all noise at the last output; <see langword="null"/> without any noise.</param>
public sealed record ChainLevels(IReadOnlyList<StageLevels> Stages, Decibels? SignalToNoise)
{
    /// <summary>Works the levels out.</summary>
    /// <param name="chain">The chain.</param>
    /// <param name="settings">One for each stage.</param>
    public static ChainLevels At(SignalChain chain, IReadOnlyList<StageSetting> settings)
    {
        ArgumentNullException.ThrowIfNull(chain);
        ArgumentNullException.ThrowIfNull(settings);
        var peak = chain.Source;
        var noise = chain.SourceNoise;
        var stages = new List<StageLevels>(chain.Stages.Count);
        for (var index = 0; index < chain.Stages.Count; index++)
        {
            var fullScale = index == chain.Stages.Count - 1 ? chain.FullScale : null;
            var levels = Through(chain.Stages[index], settings[index], peak, noise, fullScale);
            stages.Add(levels);
            peak = levels.PeakOut;
            noise = levels.NoiseOut;
        }

        return new ChainLevels(stages, noise is { } total ? peak - total : null);
    }

    private static StageLevels Through(ChainStage stage, StageSetting setting, Dbu peakIn, Dbu? noiseIn, Dbu? fullScale)
    {
        var pad = setting.PadIn ? stage.Pad ?? Decibels.Zero : Decibels.Zero;
        var through = setting.Gain - pad;
        var peakOut = peakIn + through;
        var own = stage.Noise?.AtGain(setting.Gain);
        var carried = noiseIn is { } noise ? noise + through : (Dbu?)null;
        var ceiling = (stage.MaxOut, fullScale) is ({ } limit, { } full) ? (limit < full ? limit : full) : stage.MaxOut ?? fullScale;
        return new StageLevels(
            peakIn, peakOut, stage.MaxIn is { } maxIn ? maxIn + pad - peakIn : null, ceiling is { } maxOut ? maxOut - peakOut : null, own, NoisePower.Sum(carried, own));
    }
}
