namespace TrimAssist.Desk.Profiles.Values;

/// <summary>What a meter's numbers are.</summary>
public enum LevelUnit
{
    /// <summary>dBFS.</summary>
    Dbfs,

    /// <summary>Linear, 1.0 is full scale.</summary>
    Amplitude,

    /// <summary>0 to 1 across a range in dB.</summary>
    Fraction,
}

/// <summary>Turns a meter's number into dBFS.</summary>
/// <param name="Unit">What the numbers are.</param>
/// <param name="PerCount">What a number is multiplied with first: dB per count, or one over the count of full scale.</param>
/// <param name="MinDb">What a fraction of 0 means.</param>
/// <param name="MaxDb">What a fraction of 1 means.</param>
/// <param name="OffsetDb">Added last.</param>
/// <param name="Zero">What is taken off a number before anything else.</param>
public sealed record LevelScale(LevelUnit Unit, double PerCount = 1, double MinDb = 0, double MaxDb = 0, double OffsetDb = 0, double Zero = 0)
{
    // No converter and no meter shows more; a number beyond it is garbage.
    private const double HighestDbfs = 200;

    /// <summary>The level in dBFS; −∞ for silence, NaN for what is no level.</summary>
    public float ToDbfs(double value)
    {
        if (double.IsNaN(value) || double.IsPositiveInfinity(value))
            return float.NaN;

        value = (value - Zero) * PerCount;
        var level = Unit switch
        {
            LevelUnit.Dbfs => value,
            LevelUnit.Amplitude => double.IsInfinity(value) ? double.NaN : 20 * Math.Log10(Math.Abs(value)),
            _ => double.IsInfinity(value) ? double.NaN : MinDb + (Math.Clamp(value, 0, 1) * (MaxDb - MinDb)),
        };
        return level > HighestDbfs ? float.NaN : (float)(level + OffsetDb);
    }
}
