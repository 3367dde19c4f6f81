namespace TrimAssist.Audio.Loudness;

/// <summary>The K-weighting of ITU-R BS.1770-5, annex 1: a shelf for the head, then a high-pass.</summary>
/// <param name="Shelf">Stage 1.</param>
/// <param name="HighPass">Stage 2.</param>
public sealed record KWeighting(Biquad Shelf, Biquad HighPass)
{
    private const int PrintedRate = 48_000;
    private const double ShelfHz = 1681.974450955533;
    private const double ShelfDb = 3.999843853973347;
    private const double ShelfQ = 0.7071752369554196;

    /// <summary>Share of the shelf's gain that stands at its middle frequency, as an exponent; fitted so that 48 kHz gives the printed table.</summary>
    private const double ShelfMiddle = 0.4996667741545416;

    private const double HighPassHz = 38.13547087602444;
    private const double HighPassQ = 0.5003270373238773;

    /// <summary>The filters for a sample rate: the printed coefficients at 48 kHz, elsewhere the same analogue filters transformed.</summary>
    /// <param name="sampleRate">Samples per second; more than 3364, twice the shelf's frequency.</param>
    public static KWeighting At(int sampleRate)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(sampleRate, 2 * ShelfHz);
        return sampleRate == PrintedRate ? Printed : Transformed(sampleRate);
    }

    /// <summary>Annex 1, tables 1 and 2.</summary>
    internal static KWeighting Printed { get; } = new(
        new(1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585),
        new(1.0, -2.0, 1.0, -1.99004745483398, 0.99007225036621));

    /// <summary>Both filters by the bilinear transform; the high-pass keeps the printed numerator at every rate, as the common implementations do, which costs 0.03 dB at 192 kHz.</summary>
    internal static KWeighting Transformed(int sampleRate)
    {
        var k = Math.Tan(Math.PI * ShelfHz / sampleRate);
        var high = Math.Pow(10, ShelfDb / 20);
        var middle = Math.Pow(high, ShelfMiddle);
        var a0 = 1 + (k / ShelfQ) + (k * k);
        var shelf = new Biquad(
            (high + (middle * k / ShelfQ) + (k * k)) / a0,
            2 * ((k * k) - high) / a0,
            (high - (middle * k / ShelfQ) + (k * k)) / a0,
            2 * ((k * k) - 1) / a0,
            (1 - (k / ShelfQ) + (k * k)) / a0);
        k = Math.Tan(Math.PI * HighPassHz / sampleRate);
        a0 = 1 + (k / HighPassQ) + (k * k);
        return new(shelf, new(1, -2, 1, 2 * ((k * k) - 1) / a0, (1 - (k / HighPassQ) + (k * k)) / a0));
    }
}
