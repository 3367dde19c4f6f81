using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Tests.Kit;
using static TrimAssist.Audio.Tests.Kit.Signals;

namespace TrimAssist.Audio.Tests.Loudness;

/// <summary>Source: EBU Tech 3341 version 4 (11/2023), table 1: 1 kHz in phase in both channels, levels are peaks, tolerance ±0.1 LU. Cases 7 and 8 are recorded programmes and not built here.</summary>
public sealed class EbuTech3341
{
    private const double Tolerance = 0.1;

    [Theory]
    [InlineData(1, -23)]
    [InlineData(2, -33)]
    public void A_steady_tone_reads_the_same_in_all_three_windows(int testCase, double level)
    {
        var programme = Programmes.HeardInStereo(Sine(level, 20));

        Assert.Equal(level, programme.MomentaryLufs!.Value, Tolerance);
        Assert.Equal(level, programme.ShortTermLufs!.Value, Tolerance);
        Assert.Equal(level, programme.IntegratedLufs!.Value, Tolerance);
        Assert.True(testCase > 0);
    }

    public static TheoryData<int, double[]> IntegratedCases => new()
    {
        { 3, Case3 },
        { 4, Sine(-72, 10).Then(Case3, Sine(-72, 10)) },
        { 5, Sine(-26, 20).Then(Sine(-20, 20.1), Sine(-26, 20)) },
    };

    private static double[] Case3 => Sine(-36, 10).Then(Sine(-23, 60), Sine(-36, 10));

    [Theory]
    [MemberData(nameof(IntegratedCases), DisableDiscoveryEnumeration = true)]
    public void The_gates_leave_the_programme_at_minus_23(int testCase, double[] signal)
    {
        var read = Programmes.HeardInStereo(signal).IntegratedLufs!.Value;

        Assert.True(Math.Abs(read + 23) <= Tolerance, $"case {testCase} reads {read:0.000} LUFS");
    }

    [Fact]
    public void Case_6_weighs_five_channels_by_their_place()
    {
        double[][] channels = [.. new double[] { -28, -28, -24, -30, -30 }.Select(level => Sine(level, 20))];

        Assert.Equal(-23, Programmes.Heard(Rate, [.. LoudnessMeter.FiveChannels], channels).IntegratedLufs!.Value, Tolerance);
    }

    [Fact]
    public void Case_9_short_term_stays_constant_after_three_seconds()
    {
        var seen = Programmes.Watched(Sine(-20, 1.34).Then(Sine(-30, 1.66)).Repeated(5), p => p.ShortTermLufs);

        Assert.All(seen.Take(299), value => Assert.Null(value));
        Assert.All(seen.Skip(299), value => Assert.Equal(-23, value!.Value, Tolerance));
    }

    [Fact]
    public void Case_10_three_seconds_are_found_at_any_offset() => Assert.All(Enumerable.Range(0, 20), i =>
    {
        var signal = Silence(0.15 * i).Then(Sine(-23, 3), Silence(1));

        Assert.Equal(-23, Programmes.HeardInStereo(signal).ShortTermMaxLufs!.Value, Tolerance);
    });

    [Fact]
    public void Case_11_the_short_term_maximum_climbs_with_each_burst()
    {
        var signals = Enumerable.Range(0, 20).Select(i => Silence(0.15 * i).Then(Sine(-38 + i, 3), Silence(3 - (0.15 * i))));

        AssertMaximaClimb(signals, p => p.ShortTermMaxLufs);
    }

    [Fact]
    public void Case_12_momentary_stays_constant_after_one_second()
    {
        var seen = Programmes.Watched(Sine(-20, 0.18).Then(Sine(-30, 0.22)).Repeated(25), p => p.MomentaryLufs);

        Assert.All(seen.Take(39), value => Assert.Null(value));
        Assert.All(seen.Skip(100), value => Assert.Equal(-23, value!.Value, Tolerance));
    }

    [Fact]
    public void Case_13_four_tenths_of_a_second_are_found_at_any_offset() => Assert.All(Enumerable.Range(0, 20), i =>
    {
        var signal = Silence(0.02 * i).Then(Sine(-23, 0.4), Silence(1));

        Assert.Equal(-23, Programmes.HeardInStereo(signal).MomentaryMaxLufs!.Value, Tolerance);
    });

    [Fact]
    public void Case_14_the_momentary_maximum_climbs_with_each_burst()
    {
        var signals = Enumerable.Range(0, 20).Select(i => Silence(0.02 * i).Then(Sine(-38 + i, 0.4), Silence(0.4 - (0.02 * i))));

        AssertMaximaClimb(signals, p => p.MomentaryMaxLufs);
    }

    private static void AssertMaximaClimb(IEnumerable<double[]> parts, Func<Programme, double?> maximum)
    {
        var meter = LoudnessMeter.OfMix(Rate, Programmes.Stereo);
        foreach (var (i, part) in parts.Index())
        {
            meter.Hear(Blocks.Of(part, part));
            Assert.Equal(-38 + i, maximum(meter.Programmes[0])!.Value, Tolerance);
        }
    }
}
