using CsCheck;
using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.Levels;

/// <summary>Sources: AES17 for the RMS reference (997 Hz sine whose peak reaches full scale is 0 dB FS), analytic crest factors and power sums, Bennett 1948 (from memory) for quantising noise.</summary>
public sealed class SampleLevels
{
    private const double Aes17Hz = 997;

    [Fact]
    public void A_full_scale_sine_reads_0_dBFS_in_peak_and_in_RMS()
    {
        var levels = Heard(Signals.Sine(0, 10, Aes17Hz));

        Assert.Equal(0, levels.Peak!.Value.Value, 0.0001);
        Assert.Equal(0, levels.Rms!.Value.Value, 0.0001);
    }

    [Fact]
    public void A_full_scale_square_reads_3_01_dB_more_in_RMS_than_in_peak()
    {
        var levels = Heard(new[] { 1.0, -1.0 }.Repeated(5000));

        Assert.Equal(0, levels.Peak!.Value.Value, 1e-12);
        Assert.Equal(3.0103, levels.Rms!.Value.Value, 0.0001);
    }

    [Fact]
    public void Crest_factors_are_3_01_dB_for_a_sine_and_4_77_dB_for_a_triangle()
    {
        const int period = 4_000;
        double[] triangle = [.. Enumerable.Range(0, 10 * period).Select(n => (4 * Math.Abs((n % period / (double)period) - 0.5)) - 1)];

        Assert.Equal(3.0103, MathematicalCrestDb(Heard(Signals.Sine(-7, 10, Aes17Hz))), 0.0001);
        Assert.Equal(4.7712, MathematicalCrestDb(Heard(triangle)), 0.0001);
    }

    [Theory]
    [InlineData(2, 3.0103)]
    [InlineData(3, 4.7712)]
    [InlineData(4, 6.0206)]
    [InlineData(10, 10)]
    public void Equal_uncorrelated_sources_add_in_power(int sources, double riseDb)
    {
        var mix = Mixed([.. Enumerable.Range(1, sources).Select(k => Signals.Sine(-30, 1, 100 * k))]);

        Assert.Equal(-30 + riseDb, Heard(mix).Rms!.Value.Value, 0.0001);
    }

    [Fact]
    public void Unequal_and_correlated_sources_add_as_power_and_as_amplitude()
    {
        var one = Signals.Sine(-30, 1, 500);

        Assert.Equal(-30 + 0.4139, Heard(Mixed(one, Signals.Sine(-40, 1, 700))).Rms!.Value.Value, 0.0001);
        Assert.Equal(-30 + 6.0206, Heard(Mixed(one, one)).Rms!.Value.Value, 0.0001);
    }

    [Theory]
    [InlineData(16, 98.091)]
    [InlineData(24, 146.255)]
    public void Quantising_noise_of_a_full_scale_sine_read_from_a_file_lies_where_the_word_length_puts_it(int bits, double belowDb)
    {
        var full = (1L << (bits - 1)) - 1;
        var ideal = Signals.Sine(0, 4, 997.123).Scaled(full / (full + 1.0));
        byte[] data = [.. ideal.SelectMany(s => BitConverter.GetBytes((long)Math.Round(s * (full + 1)))[..(bits / 8)])];
        using var file = Reading.Open(new WavBytes(Bits: bits).With(data));

        double[] error = [.. Reading.All(file)[0].Zip(ideal, (read, meant) => read - meant)];

        Assert.Equal(-belowDb, Heard(error).Rms!.Value.Value, 0.05);
    }

    [Fact]
    public void Nothing_heard_has_no_level_and_digital_silence_is_minus_infinity()
    {
        Assert.Null(Heard([]).Peak);
        Assert.Null(Heard([]).Rms);
        Assert.Equal(double.NegativeInfinity, Heard([0, 0]).Peak!.Value.Value);
        Assert.Equal(double.NegativeInfinity, Heard([0, 0]).Rms!.Value.Value);
    }

    [Fact]
    public void Peak_and_RMS_equal_a_plain_loop_for_any_samples_cut_anywhere()
        => Gen.Select(Gen.Double[-2, 2].Array[1, 200], Gen.Int[0, 200]).Sample((samples, cut) =>
        {
            cut = Math.Min(cut, samples.Length);
            var levels = Heard(samples[..cut]);
            levels.Hear(samples.AsSpan(cut));
            var (rms, plain) = (levels.Rms!.Value.Value, Level.OfMeanSquare(samples.Sum(s => s * s) / samples.Length).Value);

            // Silence is minus infinity both ways, whose difference is no number.
            return levels.PeakMagnitude == samples.Max(Math.Abs) && (rms == plain || Math.Abs(rms - plain) < 1e-9);
        });

    [Fact]
    public void A_gain_moves_peak_and_RMS_alike()
        => Gen.Select(Gen.Double[-1, 1].Array[20, 300], Gen.Double[-60, 60]).Sample((samples, gainDb) =>
        {
            var (before, after) = (Heard(samples), Heard(samples.Scaled(Math.Pow(10, gainDb / 20))));
            return Math.Abs((after.Peak!.Value - before.Peak!.Value).Value - gainDb) < 1e-9
                && Math.Abs((after.Rms!.Value - before.Rms!.Value).Value - gainDb) < 1e-9;
        });

    private static LevelAccumulator Heard(double[] samples)
    {
        var levels = default(LevelAccumulator);
        levels.Hear(samples);
        return levels;
    }

    private static double MathematicalCrestDb(LevelAccumulator levels) => (levels.Peak!.Value - levels.Rms!.Value).Value + (10 * Math.Log10(2));

    private static double[] Mixed(params double[][] sources) => [.. Enumerable.Range(0, sources[0].Length).Select(n => sources.Sum(s => s[n]))];
}
