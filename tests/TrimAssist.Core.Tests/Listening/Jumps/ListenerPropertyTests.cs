using CsCheck;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

public sealed class ListenerPropertyTests
{
    [Fact]
    public void Any_floats_at_any_times_never_throw_and_stay_bounded()
    {
        var reading = Gen.Select(Gen.Int[-1, 5], Gen.Double, Gen.Single, Gen.Single, (input, time, peak, rms) => new MeterReading(input, time, peak, rms));
        reading.Array[0, 200].Sample(readings =>
        {
            var (stage, ring) = (new StageListener(3, new MeterTraits(0.05)), new FindingRing());
            foreach (var one in readings)
                stage.Observe(one, ring);
        });
    }

    [Fact]
    public void Wild_levels_in_good_time_never_throw_and_no_word_is_about_another_input()
    {
        var level = Gen.OneOf(Gen.Single[-140, 20], Gen.Const(float.NegativeInfinity), Gen.Const(float.NaN), Gen.Const(float.PositiveInfinity));
        level.Array[0, 400].Sample(levels =>
        {
            var (stage, ring) = (new StageListener(1, new MeterTraits(0.02)), new FindingRing());
            for (var i = 0; i < levels.Length; i++)
                stage.Observe(new MeterReading(1, i * 0.02, levels[i], levels[^(i + 1)]), ring);
            while (ring.TryTake(out var word))
                Assert.Equal(1, word.Input);
        });
    }

    [Fact]
    public void Silence_and_steady_noise_are_never_an_event()
    {
        Gen.Select(Gen.Single[-110, -6], Gen.Int[0, 2].Select(which => new[] { 20, 50, 100 }[which]), Gen.Bool).Sample((level, frameMs, rms) =>
            Assert.Empty(new MeterStory(frameMs, rms).Rest(20, level).Words), iter: 50);
        Assert.Empty(new MeterStory(50).For(20, _ => (float.NegativeInfinity, 0)).Words);
    }

    [Fact]
    public void A_gain_in_front_of_everything_changes_no_finding_while_it_stays_clear_of_the_ends()
    {
        static List<FindingKind> Kinds(double gainDb) =>
            [.. new MeterStory(50, gainDb: gainDb).Rest(3).Pop(-30).Note(-34).Rest(1).Drum(-32).Rest(1).Pop(-25).Kinds];
        var plain = Kinds(0);
        Gen.Double[-3, 12].Sample(gainDb => Assert.Equal(plain, Kinds(gainDb)), iter: 40);
        Assert.Contains(FindingKind.Pop, plain);
    }

    [Fact]
    public void Time_that_runs_backwards_or_repeats_says_nothing()
    {
        var (stage, ring) = (new StageListener(1, new MeterTraits(0.05)), new FindingRing());
        for (var i = 0; i < 100; i++)
            stage.Observe(new MeterReading(1, i * 0.05, -70, -78), ring);
        stage.Observe(new MeterReading(1, 1, -1, -5), ring);
        stage.Observe(new MeterReading(1, 99 * 0.05, -1, -5), ring);
        Assert.False(ring.TryTake(out _));
    }

    [Fact]
    public void A_pop_is_found_from_peaks_alone()
    {
        Assert.Equal([FindingKind.Pop], new MeterStory(50, withRms: false).Rest(3).Pop(-6).Kinds);
    }
}
