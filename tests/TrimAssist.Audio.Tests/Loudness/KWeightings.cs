using System.Numerics;
using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.Loudness;

/// <summary>Sources: ITU-R BS.1770-5 (11/2023), annex 1, tables 1 to 3 and the response that follows from them.</summary>
public sealed class KWeightings
{
    [Theory]
    [InlineData(25, -10.393)]
    [InlineData(38, -6.003)]
    [InlineData(100, -1.134)]
    [InlineData(500, 0.043)]
    [InlineData(997, 0.6910)]
    [InlineData(1000, 0.6977)]
    [InlineData(2000, 3.071)]
    [InlineData(4000, 3.968)]
    [InlineData(10000, 4.042)]
    public void The_printed_filters_have_the_response_that_follows_from_the_tables(double hertz, double gainDb)
        => Assert.Equal(gainDb, ResponseDb(KWeighting.At(48_000), hertz, 48_000), 0.001);

    [Fact]
    public void At_48_kHz_the_transformed_filters_are_the_printed_ones()
    {
        var (printed, transformed) = (KWeighting.Printed, KWeighting.Transformed(48_000));

        AssertEqual(printed.Shelf, transformed.Shelf);
        AssertEqual(printed.HighPass, transformed.HighPass);
    }

    [Theory]
    [InlineData(44_100, 8_000, 0.05)]
    [InlineData(88_200, 12_000, 0.25)]
    [InlineData(96_000, 12_000, 0.25)]
    [InlineData(192_000, 12_000, 0.35)]
    [InlineData(32_000, 4_000, 0.1)]
    [InlineData(22_050, 3_000, 0.1)]
    public void Other_rates_hear_alike_up_to_a_frequency(int rate, int upTo, double withinDb)
    {
        foreach (var hertz in new[] { 30, 60, 100, 500, 997, 1500, 2000, 3000, 4000, 8000, 12_000 }.Where(f => f <= upTo))
            Assert.Equal(ResponseDb(KWeighting.At(48_000), hertz, 48_000), ResponseDb(KWeighting.At(rate), hertz, rate), withinDb);
    }

    [Theory]
    [InlineData(48_000, 0.005)]
    [InlineData(44_100, 0.01)]
    [InlineData(96_000, 0.03)]
    [InlineData(192_000, 0.03)]
    [InlineData(8_000, 0.05)]
    public void A_full_scale_sine_of_997_Hz_in_one_front_channel_reads_minus_3_01(int rate, double tolerance)
    {
        var programme = Programmes.Heard(rate, [1], Signals.Sine(0, 5, 997, rate: rate));

        Assert.Equal(-3.01, programme.IntegratedLufs!.Value, tolerance);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(2_000)]
    [InlineData(10_000)]
    public void The_running_filter_has_the_response_of_its_coefficients(double hertz)
    {
        var programme = Programmes.Heard(48_000, [1], Signals.Sine(-20, 3, hertz));

        var expected = -20 - 3.0103 + LoudnessScale.OffsetDb + ResponseDb(KWeighting.At(48_000), hertz, 48_000);
        Assert.Equal(expected, programme.MomentaryLufs!.Value, 0.002);
    }

    [Fact]
    public void Every_channel_is_filtered_by_itself()
    {
        double[][] channels = [.. Enumerable.Range(0, 7).Select(c => Signals.Sine(-10 - (5 * c), 1, 500 + (300 * c)))];
        var meter = LoudnessMeter.OfEachChannel(48_000, channels.Length);
        meter.Hear(Blocks.Of(channels));

        for (var channel = 0; channel < channels.Length; channel++)
            Assert.Equal(Programmes.Heard(48_000, [1], channels[channel]).MomentaryLufs!.Value, meter.Programmes[channel].MomentaryLufs!.Value, 1e-9);
    }

    private static double ResponseDb(KWeighting filter, double hertz, int rate)
    {
        var z1 = Complex.FromPolarCoordinates(1, -2 * Math.PI * hertz / rate);
        return 20 * Math.Log10((Response(filter.Shelf, z1) * Response(filter.HighPass, z1)).Magnitude);
    }

    private static Complex Response(Biquad f, Complex z1) => (f.B0 + (f.B1 * z1) + (f.B2 * z1 * z1)) / (1 + (f.A1 * z1) + (f.A2 * z1 * z1));

    private static void AssertEqual(Biquad printed, Biquad transformed)
    {
        Assert.Equal(printed.B0, transformed.B0, 1e-9);
        Assert.Equal(printed.B1, transformed.B1, 1e-9);
        Assert.Equal(printed.B2, transformed.B2, 1e-9);
        Assert.Equal(printed.A1, transformed.A1, 1e-9);
        Assert.Equal(printed.A2, transformed.A2, 1e-9);
    }
}
