using TrimAssist.Core.Units;

namespace TrimAssist.Audio.Levels;

/// <summary>Turns sample arithmetic into levels.</summary>
public static class Level
{
    /// <summary>Twice the mean square of a full-scale sine is 1: RMS after AES17 reads 3.01 dB over the mathematical one.</summary>
    private const double Aes17 = 2.0;

    /// <summary>A peak in dBFS from its magnitude, 1.0 being full scale; −∞ for none.</summary>
    public static Dbfs OfPeak(double magnitude) => new(20 * Math.Log10(magnitude));

    /// <summary>An RMS level in dBFS after AES17 (a full-scale sine reads 0) from a mean square; −∞ for silence.</summary>
    public static Dbfs OfMeanSquare(double meanSquare) => new(10 * Math.Log10(Aes17 * meanSquare));
}
