namespace TrimAssist.Audio.MeterModel;

/// <summary>A peak meter that rises at once, may hold, and then falls back at a constant speed: what many desks send instead of each frame's own peak.</summary>
/// <remarks>The usual digital peak meter falls 20 dB in 1.7 s and holds its maximum for 1 s (wording of IEC TR 60268-18).</remarks>
/// <param name="releaseDbPerS">How fast the reading falls back; 0 shows each frame's own peak.</param>
/// <param name="holdS">How long a maximum stands before it falls.</param>
public sealed class FallBackMeter(double releaseDbPerS, double holdS = 0)
{
    /// <summary>The fall-back speed of the digital peak meter: 20 dB in 1.7 s.</summary>
    public const double DigitalPeakMeterDbPerS = 20 / 1.7;

    /// <summary>The lowest reading in dBFS; a meter that has fallen below it shows silence.</summary>
    public const double Bottom = -200;

    private double _shown = double.NegativeInfinity;
    private double _held;

    /// <summary>Takes a frame's peak in dBFS (−∞ for silence) and gives what the meter shows at the frame's end.</summary>
    /// <param name="peakDbfs">The frame's peak.</param>
    /// <param name="frameS">The frame's length in seconds.</param>
    public double Show(double peakDbfs, double frameS)
    {
        var fallingS = Math.Min(frameS, Math.Max(0, _held + frameS - holdS));
        var fallen = releaseDbPerS > 0 ? _shown - (releaseDbPerS * fallingS) : double.NegativeInfinity;
        if (peakDbfs >= fallen)
        {
            _shown = peakDbfs;
            _held = 0;
        }
        else
        {
            _shown = fallen < Bottom ? double.NegativeInfinity : fallen;
            _held += frameS;
        }

        return _shown;
    }
}
