using CsCheck;
using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.Levels;

/// <summary>Sources: ITU-R BS.1770-5 (11/2023), annex 2, and EBU Tech 3341 version 4 (11/2023), table 1, tolerance +0.2/−0.4 dB.</summary>
public sealed class TruePeaks
{
    [Theory]
    [InlineData(15, 4, 0.50, 0, -6.0)]
    [InlineData(16, 4, 0.50, 45, -6.0)]
    [InlineData(17, 6, 0.50, 60, -6.0)]
    [InlineData(18, 8, 0.50, 67.5, -6.0)]
    [InlineData(19, 4, 1.41, 45, 3.0)]
    public void Tones_between_the_samples_read_their_crest(int testCase, int samplesPerPeriod, double amplitude, double degrees, double expectedDbtp)
    {
        var tone = Signals.Sine(0, 1, Signals.Rate / (double)samplesPerPeriod, degrees).Scaled(amplitude).Faded();

        var read = Measured(tone);

        Assert.True(read - expectedDbtp is >= -0.4 and <= 0.2, $"case {testCase} reads {read:0.000} dBTP");
    }

    /// <summary>The document describes the splice only in words. Here one period of fs/4 at full amplitude follows a zero crossing of the fs/6 tone; the whole is built at sixteen times the rate, limited to half the rate so that nothing folds back, and scaled so that its crest is full scale.</summary>
    [Theory]
    [InlineData(20, 0)]
    [InlineData(21, 4)]
    [InlineData(22, 8)]
    [InlineData(23, 12)]
    public void A_single_loud_period_is_found_wherever_the_samples_fall(int testCase, int offset)
    {
        const int times = 16;
        const int fast = times * Signals.Rate;
        var tone = Signals.Sine(0, 0.01, Signals.Rate / 6.0, rate: fast).Scaled(0.5);
        var burst = Signals.Sine(0, 1, Signals.Rate / 4.0, rate: fast)[..(4 * times)];
        var signal = BandLimited(tone.Then(burst, tone), times).Faded(fast);
        signal = signal.Scaled(1 / signal.Max(Math.Abs));

        var read = Measured([.. signal.Where((_, n) => n % times == offset)]);

        Assert.True(read is >= -0.4 and <= 0.2, $"case {testCase} reads {read:0.000} dBTP");
    }

    [Fact]
    public void The_transcribed_filter_of_the_annex_has_its_known_sums()
    {
        Assert.Equal(0.9721679687500, AnnexTwoFilter.Phases[0][6], 1e-12);
        Assert.Equal(1.0015869140625, AnnexTwoFilter.Phases[0].Sum(), 1e-12);
        Assert.Equal(0.9730224609375, AnnexTwoFilter.Phases[1].Sum(), 1e-12);
        Assert.Equal(1.434204, AnnexTwoFilter.Phases[3].Sum(Math.Abs), 1e-6);
        Assert.Equal(2.022827, AnnexTwoFilter.Phases[2].Sum(Math.Abs), 1e-6);
    }

    [Theory]
    [InlineData(997, 0, 0.15)]
    [InlineData(5_000, 0, 0.25)]
    [InlineData(8_000, 60, 0.35)]
    [InlineData(12_000, 0, 0.25)]
    [InlineData(12_000, 45, 0.1)]
    public void The_printed_filter_of_the_annex_agrees_within_its_own_ripple(double hertz, double degrees, double rippleDb)
    {
        var tone = Signals.Sine(-6, 0.5, hertz, degrees).Faded();

        Assert.Equal(AnnexTwoFilter.PeakDb(tone), Measured(tone), rippleDb);
        Assert.Equal(-6, Measured(tone), hertz < 10_000 ? 0.1 : 0.05);
    }

    [Theory]
    [InlineData(0.45, 0.554, 0.35)]
    [InlineData(0.25, 0.169, 0.01)]
    [InlineData(0.10, 0.027, 0.01)]
    public void The_worst_phase_reads_no_lower_than_four_times_oversampling_and_the_filters_edge_explain(double share, double underReadDb, double edgeDb)
    {
        var lowest = Enumerable.Range(0, 90).Min(degrees => Measured(Signals.Sine(0, 0.1, share * Signals.Rate, 2 * degrees).Faded()));

        Assert.InRange(lowest, -underReadDb - edgeDb, 0.2);
    }

    [Fact]
    public void The_sample_peak_is_a_lower_bound_because_points_between_samples_may_lie_below_it()
    {
        double[] alternating = new[] { 1.0, -1.0 }.Repeated(2_000).Faded();
        var window = new float[alternating.Length];
        for (var i = 0; i < window.Length; i++)
            window[i] = (float)alternating[i];

        Assert.True(TruePeakFilter.PeakByScalar(window) < 0.95f, "the filter alone");
        Assert.Equal(0, Measured(alternating), 1e-12);
    }

    [Fact]
    public void A_crest_after_the_last_sample_is_found_when_the_filter_rings_out()
    {
        var meter = new TruePeakMeter();
        meter.Hear([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1]);
        var before = meter.Peak!.Value;
        meter.Finish();

        Assert.True((meter.Peak!.Value - before).Value > 1);
    }

    [Fact]
    public void Vectors_and_single_samples_give_the_same_answer_for_any_samples_cut_anywhere()
        => Gen.Select(Gen.Float[-2, 2].Array[1, 400], Gen.Int[0, 400]).Sample((samples, cut) =>
        {
            var widened = samples.Select(s => (double)s).ToArray();
            cut = Math.Min(cut, samples.Length);
            var meter = new TruePeakMeter();
            meter.Hear(widened.AsSpan(0, cut));
            meter.Hear(widened.AsSpan(cut));
            float[] padded = [.. new float[TruePeakFilter.Taps - 1], .. samples];
            var scalar = Math.Max(TruePeakFilter.PeakByScalar(padded), samples.Max(Math.Abs));

            // equal covers silence, where the difference of two minus infinities is no number
            var (vector, single) = (meter.Peak!.Value.Value, Level.OfPeak(scalar).Value);
            return vector.Equals(single) || Math.Abs(vector - single) < 1e-5;
        });

    [Fact]
    public void Passing_over_what_cannot_be_the_peak_gives_the_same_answer()
        => Gen.Select(Gen.Float[-1, 1].Array[400, 1_200], Gen.Float[0.3f, 1].Array[24]).Sample((samples, loudness) =>
        {
            for (var i = 0; i < samples.Length; i++)
                samples[i] *= loudness[i / 50];
            float[] padded = [.. new float[TruePeakFilter.Taps - 1], .. samples];

            Assert.Equal(TruePeakFilter.PeakByScalar(padded), TruePeakFilter.Peak(padded), 1e-5f);
        });

    [Fact]
    public void Nothing_heard_has_no_true_peak_and_silence_is_minus_infinity()
    {
        Assert.Null(new TruePeakMeter().Peak);
        Assert.Equal(double.NegativeInfinity, Measured([0, 0, 0]));
    }

    /// <summary>A windowed sinc that ends at half the slow rate.</summary>
    private static double[] BandLimited(double[] signal, int times)
    {
        var half = 32 * times;
        double[] taps = [.. Enumerable.Range(-half, (2 * half) + 1).Select(n =>
        {
            var x = 0.92 * Math.PI * n / times;
            var window = 0.5 + (0.5 * Math.Cos(Math.PI * n / half));
            return 0.92 / times * window * (n == 0 ? 1 : Math.Sin(x) / x);
        })];
        return [.. Enumerable.Range(0, signal.Length).Select(at =>
        {
            var (first, last) = (Math.Max(0, at - half), Math.Min(signal.Length - 1, at + half));
            var sum = 0.0;
            for (var n = first; n <= last; n++)
                sum += signal[n] * taps[at - n + half];
            return sum;
        })];
    }

    private static double Measured(double[] samples)
    {
        var meter = new TruePeakMeter();
        meter.Hear(samples);
        meter.Finish();
        return meter.Peak!.Value.Value;
    }
}
