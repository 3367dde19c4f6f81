using CsCheck;
using TrimAssist.Core.Advice;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Tests.Listening.Levels;
using Xunit;

namespace TrimAssist.Core.Tests.Advice;

/// <summary>The physics: noise before the trim passes through it, noise behind it does not, and powers of noises that know nothing of each other add.</summary>
public sealed class NoiseSplitTests
{
    [Fact]
    public void Two_floors_give_back_the_noises_that_made_them() =>
        Gen.Select(Gen.Double[-110, -70], Gen.Double[-100, -50], Gen.Double[0, 30], Gen.Double[6.01, 30]).Sample((before, behind, low, further) =>
        {
            var split = NoiseSplit.Of([new(low, Sum(before + low, behind), null), new(low + further, Sum(before + low + further, behind), null)])!;

            return Math.Abs(Sum(split.BeforeDb + low, split.BehindDbfs) - Sum(before + low, behind)) < 1e-6
                && Math.Abs(split.ShareBefore(low) - Power(before + low) / (Power(before + low) + Power(behind))) < 1e-6;
        });

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_floor_that_is_read_a_decibel_wrong_still_finds_the_side(double errorDb)
    {
        var upstream = NoiseSplit.Of([new(20, -70, null), new(32, -58 + errorDb, null)])!;
        var downstream = NoiseSplit.Of([new(20, -58, null), new(32, -58 + errorDb, null)])!;

        Assert.True(upstream.ShareBefore(32) > 0.9);
        Assert.True(downstream.ShareBefore(32) < 0.3);
    }

    [Fact]
    public void Gains_less_than_six_decibels_apart_tell_nothing() => Assert.Null(NoiseSplit.Of([new(20, -60, null), new(25, -55, null)]));

    [Theory]
    [InlineData(-85, -120, true)]
    [InlineData(-120, -55, false)]
    public void A_listener_whose_gain_is_turned_hears_on_which_side_the_noise_is(double before, double behind, bool isBefore)
    {
        var listener = new LevelListener(1, Played.Traits);
        Play(listener, 20, 0, Sum(before + 20, behind));
        Play(listener, 34, 40, Sum(before + 34, behind));

        Assert.Equal([20, 34], listener.Stretches.Select(one => one.GainDb));
        var split = NoiseSplit.Of(listener.Stretches)!;
        Assert.Equal(isBefore, split.ShareBefore(34) > 0.5);
        Assert.InRange(listener.Stretches[^1].FloorDbfs!.Value, Sum(before + 34, behind) - 1, Sum(before + 34, behind) + 1);
    }

    [Fact]
    public void Soft_playing_without_a_rest_is_no_noise()
    {
        var listener = new LevelListener(1, Played.Traits);
        listener.SettingsChanged(0, 20);
        var random = new Random(3);
        for (var frame = 1; frame < 600; frame++)
        {
            var level = (float)(-50 + (25 * random.NextDouble()));
            listener.Observe(new MeterReading(1, frame * Played.FrameS, level + 9, level));
        }

        Assert.Null(Assert.Single(listener.Stretches).FloorDbfs);
    }

    [Fact]
    public void A_knob_that_is_being_turned_leaves_no_stretches()
    {
        var listener = new LevelListener(1, Played.Traits);
        Play(listener, 20, 0, -60);
        for (var turn = 0; turn < 30; turn++)
            listener.SettingsChanged(40 + (turn * 0.1), 20 + turn);

        Assert.Equal([20], listener.Stretches.Select(one => one.GainDb));
    }

    private static void Play(LevelListener listener, double gainDb, double fromS, double noiseDbfs)
    {
        listener.SettingsChanged(fromS, gainDb);
        var random = new Random(1);
        for (var frame = 1; frame <= 40 / Played.FrameS; frame++)
        {
            var rms = noiseDbfs + (0.5 * random.NextDouble());
            var note = frame % 80 < 50 ? -42 + gainDb - (frame % 80) / 10.0 : double.NegativeInfinity;
            listener.Observe(new MeterReading(1, fromS + (frame * Played.FrameS), (float)Math.Max(rms + 9, note), (float)Math.Max(rms, note - 9)));
        }
    }

    private static double Power(double level) => Math.Pow(10, level / 10);

    private static double Sum(double one, double other) => 10 * Math.Log10(Power(one) + Power(other));
}
