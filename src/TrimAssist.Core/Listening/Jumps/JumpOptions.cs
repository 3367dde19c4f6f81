using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>How a jump listener is set up.</summary>
/// <param name="Meter">How the desk's meters behave.</param>
public sealed record JumpOptions(MeterTraits Meter)
{
    /// <summary>
    /// What a pure tone shows between peak and RMS, in dB: 0 where RMS follows AES17 (a full-scale sine reads 0 dBFS), 3.01 where the
    /// meter sends the plain root mean square.
    /// </summary>
    public double SineCrestDb { get; init; }

    /// <summary>
    /// How much more evidence than usual a pop needs, in natural log-odds. 0 is set for about one false alarm per input and hour on dense
    /// material; −2 finds more and errs more, +2 the reverse.
    /// </summary>
    public double Strictness { get; init; }

    /// <summary>The reading at which the converter is full, in dBFS; after a digital trim it is that trim.</summary>
    public double FullScaleDbfs { get; init; }
}
