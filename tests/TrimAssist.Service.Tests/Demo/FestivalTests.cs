using System.Runtime.InteropServices;
using TrimAssist.DemoDesk;
using TrimAssist.DemoDesk.Festival;
using TrimAssist.DemoDesk.Mixing;
using Xunit;

namespace TrimAssist.Service.Tests.Demo;

/// <summary>The invented festival: the same every time, with the mishaps that its programme promises.</summary>
public sealed class FestivalTests
{
    private const int Day = (int)(3 * (8 + 45 + 30 + 60) / DemoMixer.FrameLengthS);

    [Fact]
    public void The_same_seed_gives_the_same_meters_byte_for_byte_and_another_seed_others()
    {
        var (one, same, other) = (new DemoMixer(7), new DemoMixer(7), new DemoMixer(8));
        var differs = false;
        for (var frame = 0; frame < Day; frame++)
        {
            var meters = one.Advance().Meters.Span;
            Assert.True(MemoryMarshal.AsBytes(meters).SequenceEqual(MemoryMarshal.AsBytes(same.Advance().Meters.Span)));
            differs |= !MemoryMarshal.AsBytes(meters).SequenceEqual(MemoryMarshal.AsBytes(other.Advance().Meters.Span));
        }

        Assert.True(differs);
    }

    [Fact]
    public void The_day_has_seven_plugs_and_none_of_their_bangs_counts_as_a_show_that_clipped()
    {
        var mixer = new DemoMixer(7);
        for (var frame = 0; frame < Day; frame++)
        {
            // Every trim at its lowest: nobody plays to full scale then, but the bangs of the hottest lines do.
            if (mixer.Moment.PhaseS == 0)
            {
                foreach (var line in Programme.LanternFair.Acts[mixer.Moment.Act].Lines)
                    mixer.Input(line.Input).SetTrim(line.Kind.Microphone ? 8 : 0);
            }

            mixer.Advance();
        }

        Assert.Equal(7, mixer.Truth.Pops.Count);
        Assert.Equal(mixer.Truth.Pops.Select(pop => pop.AtS).Order(), mixer.Truth.Pops.Select(pop => pop.AtS));
        Assert.All(mixer.Truth.ShowPeaksDbfs, peak => Assert.True(peak.Value < -0.5, $"{peak.Key} {peak.Value}"));
    }

    [Fact]
    public void A_pulled_plug_bangs_out_of_rest_and_leaves_a_dead_line()
    {
        var levels = Levels(act: 0, FestivalPhase.Show, input: 8);

        Assert.All(Between(levels, 35.5, 35.95), level => Assert.True(level.PeakDbfs < -25, $"{level}"));
        Assert.True(Between(levels, 36, 36.05).Max(level => level.PeakDbfs) > -10);
        Assert.All(Between(levels, 37.5, 59), level => Assert.True(level.PeakDbfs < -65, $"{level}"));
    }

    [Fact]
    public void A_plug_pushed_in_bangs_on_a_dead_line_and_its_player_takes_a_moment()
    {
        var levels = Levels(act: 2, FestivalPhase.Check, input: 6);

        Assert.All(Between(levels, 0.2, 0.9), level => Assert.True(level.PeakDbfs < -70, $"{level}"));
        Assert.True(Between(levels, 1, 1.05).Max(level => level.PeakDbfs) > -10);
        Assert.All(Between(levels, 2, 3.3), level => Assert.True(level.PeakDbfs < -40, $"{level}"));
        Assert.True(Between(levels, 4, 40).Max(level => level.PeakDbfs) > -25);
    }

    [Fact]
    public void A_boost_lifts_its_input_for_twelve_seconds()
    {
        var levels = Levels(act: 0, FestivalPhase.Show, input: 7);

        var (before, during) = (Loud(Between(levels, 6, 23.9)), Loud(Between(levels, 24.1, 35.9)));

        Assert.InRange(during - before, 4, 12);
    }

    [Fact]
    public void A_drop_out_takes_the_signal_away_for_a_second_and_a_half()
    {
        var levels = Levels(act: 0, FestivalPhase.Show, input: 6);

        Assert.All(Between(levels, 47.05, 48.4), level => Assert.True(level.PeakDbfs < -60, $"{level}"));
    }

    [Fact]
    public void One_line_comes_with_its_pad_left_in_and_a_wide_open_trim()
    {
        var left = Programme.LanternFair.Acts.SelectMany(act => act.Lines).Where(line => line.PadOn).ToList();

        var line = Assert.Single(left);
        Assert.True(line.TrimDb > 45);
    }

    private static double Loud(IEnumerable<MeterPair> levels)
    {
        var sorted = levels.Select(level => (double)level.PeakDbfs).Order().ToList();
        return sorted[(int)(0.9 * sorted.Count)];
    }

    private static IEnumerable<MeterPair> Between(List<(double AtS, MeterPair Level)> levels, double fromS, double untilS) =>
        levels.Where(one => one.AtS >= fromS - 0.001 && one.AtS < untilS - 0.001).Select(one => one.Level);

    private static List<(double AtS, MeterPair Level)> Levels(int act, FestivalPhase phase, int input)
    {
        var mixer = new DemoMixer(7);
        var levels = new List<(double, MeterPair)>();
        for (var frame = 0; frame < Day; frame++)
        {
            var moment = mixer.Moment;
            var meters = mixer.Advance().Meters.Span;
            if (moment.Act == act && moment.Phase == phase)
                levels.Add((moment.PhaseS, meters[input - 1]));
        }

        return levels;
    }
}
