using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>The noise of a resistor, below which no equivalent input noise can lie (Johnson 1928, Nyquist 1928).</summary>
public static class ThermalNoise
{
    /// <summary>The source resistance at which microphone inputs are usually specified, in ohms.</summary>
    public const double UsualSourceOhms = 150;

    /// <summary>20 °C in kelvin.</summary>
    public const double RoomKelvin = 293.15;

    /// <summary>The width of the audio band, 20 Hz to 20 kHz, in hertz.</summary>
    public const double AudioBandHertz = 19_980;

    // Exact by the definition of the SI units of 2019, in joules per kelvin.
    private const double Boltzmann = 1.380649e-23;

    // The square of 0 dBu in volts (IEC 60027-3): 1 mW in 600 ohms.
    private const double ReferenceSquareVolts = 0.6;

    /// <summary>The open-circuit noise √(4kTRB) of a resistor as a level.</summary>
    public static Dbu Of(double ohms, double kelvin = RoomKelvin, double bandHertz = AudioBandHertz) =>
        new(10 * Math.Log10(4 * Boltzmann * kelvin * ohms * bandHertz / ReferenceSquareVolts));
}
