using CsCheck;
using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Tests.Kit;
using static TrimAssist.Audio.Tests.Kit.Signals;

namespace TrimAssist.Audio.Tests.Loudness;

/// <summary>Sources: EBU Tech 3342 version 4, table 1 (tolerance ±1 LU); ITU-R BS.1770-5, annex 1, for the order of the gates.</summary>
public sealed class GatesAndRange
{
    [Theory]
    [InlineData(10, -20, -30)]
    [InlineData(5, -20, -15)]
    [InlineData(20, -40, -20)]
    [InlineData(15, -50, -35, -20, -35, -50)]
    public void The_range_of_tones_of_20_s_is_the_published_one(double rangeLu, params int[] levels)
    {
        var signal = Array.Empty<double>().Then([.. levels.Select(level => Sine(level, 20))]);

        Assert.Equal(rangeLu, Programmes.HeardInStereo(signal).RangeLu!.Value, 0.2);
    }

    [Fact]
    public void The_relative_gate_is_set_by_the_whole_programme_not_by_what_was_heard_so_far()
        => Assert.Equal(-23, Programmes.HeardInStereo(Sine(-36, 20).Then(Sine(-23, 60))).IntegratedLufs!.Value, 0.1);

    [Fact]
    public void What_lies_under_minus_70_never_counts()
        => Assert.Equal(-65.05, Programmes.HeardInStereo(Sine(-65, 10).Then(Sine(-72, 10))).IntegratedLufs!.Value, 0.1);

    [Fact]
    public void Every_value_is_null_until_its_window_is_full()
    {
        var meter = LoudnessMeter.OfMix(Rate, Programmes.Stereo);
        var programme = meter.Programmes[0];

        meter.Hear(Blocks.Of(Sine(-20, 0.39), Sine(-20, 0.39)));
        Assert.Null(programme.MomentaryLufs);
        Assert.Null(programme.IntegratedLufs);
        meter.Hear(Blocks.Of(Sine(-20, 0.01), Sine(-20, 0.01)));
        Assert.NotNull(programme.MomentaryLufs);
        Assert.NotNull(programme.IntegratedLufs);
        meter.Hear(Blocks.Of(Sine(-20, 2.59), Sine(-20, 2.59)));
        Assert.Null(programme.ShortTermMaxLufs);
        Assert.Null(programme.RangeLu);
        meter.Hear(Blocks.Of(Sine(-20, 0.01), Sine(-20, 0.01)));
        Assert.NotNull(programme.ShortTermMaxLufs);
        Assert.NotNull(programme.RangeLu);
    }

    [Fact]
    public void Silence_has_no_loudness()
    {
        var programme = Programmes.HeardInStereo(Silence(10));

        Assert.Null(programme.MomentaryLufs);
        Assert.Null(programme.MomentaryMaxLufs);
        Assert.Null(programme.ShortTermMaxLufs);
        Assert.Null(programme.IntegratedLufs);
        Assert.Null(programme.RangeLu);
    }

    [Fact]
    public void A_loud_past_leaves_nothing_behind_in_silence()
    {
        var programme = Programmes.HeardInStereo(Noise(Rate, 3).Then(Silence(12)));

        Assert.Null(programme.ShortTermLufs);
    }

    [Fact]
    public void Blocks_cut_anywhere_give_the_same_loudness() => Gen.Int[1, 3000].Array[1, 6].Sample(sizes =>
    {
        double[][] channels = [Noise(Rate * 4, 1), Noise(Rate * 4, 2), Noise(Rate * 4, 3)];
        var (whole, cut) = (LoudnessMeter.OfEachChannel(Rate, 3), LoudnessMeter.OfEachChannel(Rate, 3));
        whole.Hear(Blocks.Of(channels));
        foreach (var block in Blocks.Cut(channels, sizes))
            cut.Hear(block);

        return Enumerable.Range(0, 3).All(c =>
            Same(whole.Programmes[c].IntegratedLufs, cut.Programmes[c].IntegratedLufs)
            && Same(whole.Programmes[c].ShortTermMaxLufs, cut.Programmes[c].ShortTermMaxLufs)
            && Same(whole.Programmes[c].MomentaryLufs, cut.Programmes[c].MomentaryLufs));
    }, iter: 20);

    [Fact]
    public void A_gain_moves_all_loudness_alike_and_leaves_the_range() => Gen.Double[-20, 20].Sample(gainDb =>
    {
        var signal = Noise(Rate * 4, 5).Scaled(0.1).Then(Noise(Rate * 4, 6).Scaled(0.3));
        var (before, after) = (Programmes.HeardInStereo(signal), Programmes.HeardInStereo(signal.Scaled(Math.Pow(10, gainDb / 20))));

        return Same(before.IntegratedLufs + gainDb, after.IntegratedLufs)
            && Same(before.MomentaryMaxLufs + gainDb, after.MomentaryMaxLufs)
            && Same(before.ShortTermMaxLufs + gainDb, after.ShortTermMaxLufs)
            && Same(before.RangeLu, after.RangeLu);
    }, iter: 20);

    private static bool Same(double? a, double? b) => a is { } x && b is { } y && Math.Abs(x - y) < 1e-6;
}
