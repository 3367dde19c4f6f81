using TrimAssist.Core.Listening;

namespace TrimAssist.Core.Advice;

/// <summary>
/// An input's noise, told apart by two settings of the gain. Noise from before the trim passes through it and moves dB for
/// dB; noise from behind it stays. Powers add, so the floors at two gains give both.
/// </summary>
/// <param name="Lower">What was heard at the lower gain.</param>
/// <param name="Upper">What was heard at the higher gain.</param>
/// <param name="BeforeDb">Noise from before the trim, as a level at no gain; −∞ for none.</param>
/// <param name="BehindDbfs">Noise from behind the trim; −∞ for none.</param>
internal sealed record NoiseSplit(GainStretch Lower, GainStretch Upper, double BeforeDb, double BehindDbfs)
{
    /// <summary>Gains that lie closer do not tell the two apart: a floor is known to about a dB.</summary>
    private const double LeastDifferenceDb = 6;

    /// <summary>Tells them apart by the two settings that lie furthest from each other; <see langword="null"/> where no two are far enough.</summary>
    public static NoiseSplit? Of(IEnumerable<GainStretch> stretches)
    {
        var known = stretches.Where(one => one.FloorDbfs is not null).OrderBy(one => one.GainDb).ToList();
        if (known.Count < 2 || known[^1].GainDb - known[0].GainDb < LeastDifferenceDb)
            return null;
        var (lower, upper) = (known[0], known[^1]);
        var (low, high) = (Power(lower.FloorDbfs!.Value), Power(upper.FloorDbfs!.Value));
        var (lowGain, highGain) = (Power(lower.GainDb), Power(upper.GainDb));
        var before = Math.Clamp((high - low) / (highGain - lowGain), 0, high / highGain);
        var behind = Math.Max(0, low - (before * lowGain));
        return new(lower, upper, Level(before), Level(behind));
    }

    /// <summary>Which part of the noise at a gain comes from before the trim, 0 to 1.</summary>
    public double ShareBefore(double gainDb)
    {
        var before = Power(BeforeDb + gainDb);
        return before / (before + Power(BehindDbfs));
    }

    private static double Power(double level) => Math.Pow(10, level / 10);

    private static double Level(double power) => 10 * Math.Log10(power);
}
