using TrimAssist.Audio.Levels;
using TrimAssist.Core.Units;

namespace TrimAssist.Audio.MeterModel;

/// <summary>A quasi-peak programme meter after IEC type IIb (EBU Tech 3205): it needs some 10 ms to rise, so short bursts read low, and falls 24 dB in 2.8 s.</summary>
/// <remarks>The model is this project's own: two rectifiers that charge at different speeds and whose mean is shown. Its two time constants were fitted to the burst table of Tech 3205-E.</remarks>
public sealed class QuasiPeakMeter
{
    private const double SlowChargeS = 0.0047;
    private const double FastChargeS = 0.00125;
    private const double ReturnDbPerS = 24 / 2.8;

    /// <summary>Between two crests the charge falls a little: a steady sine would read this much low.</summary>
    private const double RippleDb = 0.23;

    private readonly double _slowRise;
    private readonly double _fastRise;
    private readonly double _fall;
    private double _slow;
    private double _fast;

    /// <summary>A meter at rest.</summary>
    /// <param name="sampleRate">Samples per second.</param>
    public QuasiPeakMeter(int sampleRate)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 1);
        _slowRise = 1 - Math.Exp(-1 / (SlowChargeS * sampleRate));
        _fastRise = 1 - Math.Exp(-1 / (FastChargeS * sampleRate));
        _fall = Math.Pow(10, -ReturnDbPerS / 20 / sampleRate);
    }

    /// <summary>What the meter shows now, as the peak in dBFS of the steady sine that reads the same; −∞ at rest.</summary>
    public Dbfs Reading => Level.OfPeak((_slow + _fast) / 2) + new Decibels(RippleDb);

    /// <summary>Hears samples and gives the highest reading among them.</summary>
    public Dbfs Hear(ReadOnlySpan<double> samples)
    {
        var highest = 0.0;
        foreach (var sample in samples)
        {
            var crest = Math.Abs(sample);
            _slow *= _fall;
            _fast *= _fall;
            _slow += Math.Max(0, crest - _slow) * _slowRise;
            _fast += Math.Max(0, crest - _fast) * _fastRise;
            highest = Math.Max(highest, _slow + _fast);
        }

        return Level.OfPeak(highest / 2) + new Decibels(RippleDb);
    }
}
