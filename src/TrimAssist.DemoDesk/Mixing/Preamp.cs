using TrimAssist.DemoDesk.Band;

namespace TrimAssist.DemoDesk.Mixing;

/// <summary>What the desk's meter shows for one input in one frame, dBFS.</summary>
public readonly record struct MeterPair(float PeakDbfs, float RmsDbfs);

/// <summary>
/// One input of the desk: pad, trim, converter. Full scale is +18 dBu (EBU R 68 alignment). Noise from upstream moves with
/// the trim, so does the preamp's own; the converter's does not.
/// </summary>
internal sealed class Preamp
{
    /// <summary>The level that reaches digital full scale at 0 dB of trim: EBU R 68, 0 dBFS = +18 dBu.</summary>
    public const double FullScaleDbu = 18;

    public const double LowestTrimDb = 0;
    public const double HighestTrimDb = 60;
    public const double TrimStepDb = 1;
    public const double PadDb = 20;
    public const double LowestFaderDb = -90;
    public const double HighestFaderDb = 10;

    /// <summary>Equivalent input noise in dBu; never below the thermal noise of 150 Ω, −130.9 dBu (Johnson and Nyquist 1928).</summary>
    private const double EinDbu = -126;
    private const double ConverterNoiseDbfs = -108;

    /// <summary>Peak over RMS of noise within a frame of 50 ms, RMS after AES17: common practice.</summary>
    private const double NoiseCrestDb = 9;

    public string Label { get; set; } = "";

    public double TrimDb { get; private set; } = 20;

    public bool PadOn { get; set; }

    public bool Muted { get; set; }

    public bool PhantomOn { get; set; }

    public double FaderDb { get; private set; } = -10;

    /// <summary>Moves the fader; what is no number moves nothing.</summary>
    public void SetFader(double db) => FaderDb = double.IsFinite(db) ? Math.Clamp(db, LowestFaderDb, HighestFaderDb) : FaderDb;

    /// <summary>Sets the trim to the nearest setting the desk has.</summary>
    public void SetTrim(double db) =>
        TrimDb = Math.Round(Math.Clamp(double.IsFinite(db) ? db : TrimDb, LowestTrimDb, HighestTrimDb) / TrimStepDb) * TrimStepDb;

    /// <summary>Puts a source frame and the noise that comes with it through the input.</summary>
    public MeterPair Meter(SourceFrame source, double noiseDbu, double frameS)
    {
        var gain = TrimDb - (PadOn ? PadDb : 0) - FullScaleDbu;
        var noise = Sum(Sum(noiseDbu + gain, EinDbu + TrimDb - FullScaleDbu), ConverterNoiseDbfs);
        var peak = Math.Min(0, Math.Max(source.PeakDbu + gain, noise + NoiseCrestDb));
        var rms = Math.Min(Sum(source.RmsDbu + gain, noise), peak);
        if (source.Bang is { } bang)
        {
            var (top, power) = bang.Through(gain, 0, frameS);
            (peak, rms) = (Math.Max(peak, top), Sum(rms, power));
        }

        return new((float)peak, (float)rms);
    }

    /// <summary>The level of two uncorrelated signals together.</summary>
    public static double Sum(double left, double right) => 10 * Math.Log10(Math.Pow(10, left / 10) + Math.Pow(10, right / 10));
}
