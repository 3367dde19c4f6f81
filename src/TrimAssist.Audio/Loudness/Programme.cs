namespace TrimAssist.Audio.Loudness;

/// <summary>Loudness of one programme from its K-weighted power: momentary (0.4 s), short-term (3 s), integrated (ITU-R BS.1770-5, gated) and range (EBU Tech 3342), all in LUFS or LU.</summary>
/// <remarks>Every value is <see langword="null"/> until its window is full, and for digital silence.</remarks>
public sealed class Programme
{
    private const int StepsPerBlock = KWeightedPower.StepsPerSecond / 10;
    private const double IntegratedGateLu = 10;
    private const double RangeGateLu = 20;
    private const double RangeLow = 0.10;
    private const double RangeHigh = 0.95;

    private readonly PowerWindow _momentary = new(KWeightedPower.StepsPerSecond * 4 / 10);
    private readonly PowerWindow _shortTerm = new(KWeightedPower.StepsPerSecond * 3);
    private readonly GatedPowers _blocks = new();
    private readonly GatedPowers _shortTerms = new();
    private double _momentaryMax;
    private double _shortTermMax;
    private int _steps;

    /// <summary>The last 0.4 s.</summary>
    public double? MomentaryLufs => LoudnessScale.Lufs(_momentary.Mean);

    /// <summary>The last 3 s.</summary>
    public double? ShortTermLufs => LoudnessScale.Lufs(_shortTerm.Mean);

    /// <summary>The loudest 0.4 s so far.</summary>
    public double? MomentaryMaxLufs => LoudnessScale.Lufs(_momentaryMax);

    /// <summary>The loudest 3 s so far.</summary>
    public double? ShortTermMaxLufs => LoudnessScale.Lufs(_shortTermMax);

    /// <summary>Everything so far, gated at −70 LUFS and then at 10 LU under the mean; <see langword="null"/> where nothing passes.</summary>
    public double? IntegratedLufs
    {
        get
        {
            var (sum, count) = (0.0, 0);
            foreach (var power in _blocks.Above(IntegratedGateLu))
                (sum, count) = (sum + power, count + 1);
            return count == 0 ? null : LoudnessScale.Lufs(sum / count);
        }
    }

    /// <summary>The spread of short-term loudness, 10th to 95th percentile, gated at −70 LUFS and then at 20 LU under the mean, in LU.</summary>
    public double? RangeLu
    {
        get
        {
            double[] powers = [.. _shortTerms.Above(RangeGateLu).Order()];
            return powers.Length == 0 ? null : LoudnessScale.Lufs(Quantile(powers, RangeHigh)) - LoudnessScale.Lufs(Quantile(powers, RangeLow));
        }
    }

    /// <summary>Hears one step of 10 ms.</summary>
    /// <param name="power">The channels' K-weighted mean squares, weighted by place and added.</param>
    public void Hear(double power)
    {
        _momentary.Add(power);
        _shortTerm.Add(power);
        _momentaryMax = Math.Max(_momentaryMax, _momentary.Mean ?? 0);
        _shortTermMax = Math.Max(_shortTermMax, _shortTerm.Mean ?? 0);
        if (++_steps % StepsPerBlock != 0)
            return;
        _steps = 0;
        if (_momentary.Mean is { } block)
            _blocks.Add(block);
        if (_shortTerm.Mean is { } passage)
            _shortTerms.Add(passage);
    }

    /// <summary>The nearest rank, as in Tech 3342's own listing.</summary>
    private static double Quantile(double[] sorted, double share)
        => sorted[(int)Math.Round((sorted.Length - 1) * share, MidpointRounding.AwayFromZero)];
}
