using TrimAssist.Service.Measure;
using Xunit;

namespace TrimAssist.Service.Tests.Measure;

public sealed class BadLogTests
{
    private static readonly MeasureDocument Whole = new LogFile().Notes().Measure();

    [Fact]
    public void A_whole_log_is_proposed_for_without_a_warning_or_an_event()
    {
        var channel = Assert.Single(Whole.Channels);
        Assert.NotNull(channel.Proposal);
        Assert.Null(channel.Withheld);
        Assert.Empty(channel.Events);
        Assert.Empty(Whole.Warnings);
    }

    [Fact]
    public void A_channel_without_rms_beside_others_with_it_is_named()
    {
        var log = new LogFile();
        for (var frame = 1; frame <= 400; frame++)
            log.Row(FormattableString.Invariant($"{frame / 20.0:0.000},1,-30.0,-39.0")).Row(FormattableString.Invariant($"{frame / 20.0:0.000},2,-30.0,"));
        Assert.Contains(log.Measure().Warnings, warning => warning.StartsWith("channel 2: no rms_dbfs", StringComparison.Ordinal));
    }

    [Fact]
    public void Missing_frames_are_counted_and_change_neither_the_levels_nor_the_events()
    {
        var log = new LogFile().Notes(0, 12.5).Notes(12.9, 25).Notes(31, 40).Measure();
        var channel = Assert.Single(log.Channels);
        Assert.Contains(log.Warnings, warning => warning.Contains("128 frames are missing", StringComparison.Ordinal));
        Assert.Empty(channel.Events);
        Assert.Equal(Whole.Channels[0].PeakDbfs!.Value, channel.PeakDbfs!.Value, 0.5);
        Assert.NotNull(channel.Proposal);
    }

    [Fact]
    public void Time_that_goes_backwards_is_named_and_skipped()
    {
        var log = new LogFile().Notes(0, 20).Row(5.0, 1, -1).Row(20.0, 1, -1).Notes(20, 40).Measure();
        Assert.Equal(2, log.Warnings.Count(warning => warning.Contains("time_s is not after", StringComparison.Ordinal)));
        Assert.Equal(Whole.Channels[0].PeakDbfs, log.Channels[0].PeakDbfs);
        Assert.Empty(log.Channels[0].Events);
    }

    [Theory]
    [InlineData("10.025,1,NaN,-40")]
    [InlineData("10.025,1,nonsense,-40")]
    [InlineData("10.025,1,inf,-40")]
    [InlineData("NaN,1,-20,-40")]
    [InlineData("-5,1,-20,-40")]
    [InlineData("10.025,0,-20,-40")]
    [InlineData("10.025,1,,")]
    [InlineData("10.025,1")]
    [InlineData("10.025,1,-20,-40,9")]
    public void A_row_that_says_nothing_is_named_or_passed_over_and_changes_nothing(string row)
    {
        var log = new LogFile().Notes(0, 10).Row(row).Notes(10, 40).Measure();
        Assert.Equal(Whole.Channels[0].PeakDbfs, log.Channels[0].PeakDbfs);
        Assert.Equal(Whole.Channels[0].Proposal!.TrimChangeDb, log.Channels[0].Proposal!.TrimChangeDb);
        Assert.Empty(log.Channels[0].Events);
        Assert.Contains(log.Warnings, warning => warning.StartsWith("line 202", StringComparison.Ordinal));
    }

    [Fact]
    public void Minus_infinity_is_silence()
    {
        var log = new LogFile().Notes(0, 10);
        for (var frame = 201; frame <= 260; frame++)
            log.Row($"{frame * 0.05:0.000},1,-inf,-inf");
        var channel = Assert.Single(log.Notes(13, 43).Measure().Channels);
        Assert.NotNull(channel.Proposal);
        Assert.Equal(Whole.Channels[0].PeakDbfs, channel.PeakDbfs);
    }

    [Fact]
    public void Levels_above_full_scale_are_overloads_and_named()
    {
        var log = new LogFile().Notes(0, 20).Frames(20, 20.2, _ => 2.5).Notes(20.2, 40).Measure();
        Assert.Contains(log.Warnings, warning => warning.Contains("4 peaks above 0 dBFS", StringComparison.Ordinal));
        Assert.Equal(1, log.Channels[0].Overloads);
        Assert.Equal(2.5, log.Channels[0].PeakDbfs);
        Assert.Contains(log.Channels[0].Events, found => found.Kind == "overload");
    }

    [Fact]
    public void Digital_silence_has_neither_a_peak_nor_a_floor()
    {
        var log = new LogFile();
        for (var frame = 1; frame <= 400; frame++)
            log.Row(FormattableString.Invariant($"{frame * 0.05:0.000},1,-inf,-inf"));
        var channel = Assert.Single(log.Measure().Channels);
        Assert.Equal((null, null, null), (channel.PeakDbfs, channel.NoiseFloorDbfs, channel.SignalToNoiseDb));
    }

    [Theory]
    [InlineData(-20)]
    [InlineData(-50)]
    public void A_meter_that_is_stuck_all_along_gives_no_proposal_and_no_event(double level)
    {
        var channel = Assert.Single(new LogFile().Frames(0, 60, _ => level).Measure().Channels);
        Assert.Null(channel.Proposal);
        Assert.NotNull(channel.Withheld);
        Assert.Empty(channel.Events);
    }

    [Fact]
    public void A_meter_that_gets_stuck_in_a_note_is_left_out_from_there_on()
    {
        var channel = Assert.Single(new LogFile().Notes(0, 30).Frames(30, 60, _ => -20).Measure().Channels);
        Assert.InRange(channel.LoudestPassage!.PeakDbfs, -31, -26);
        Assert.NotNull(channel.Proposal);
    }

    [Fact]
    public void An_hour_of_silence_says_that_nothing_was_played()
    {
        foreach (var silence in new Func<double, double>[] { _ => -120, t => -92 + (t * 7919 % 2) })
        {
            var channel = Assert.Single(new LogFile().Frames(0, 3600, silence).Measure().Channels);
            Assert.Null(channel.Proposal);
            Assert.NotNull(channel.Withheld);
            Assert.Null(channel.PredictedShowPeakDbfs);
            Assert.Empty(channel.Events);
        }
    }

    [Theory]
    [InlineData(-80)]
    [InlineData(-60)]
    [InlineData(-45)]
    public void Noise_alone_gives_no_proposal(double level)
    {
        var random = new Random(1);
        var log = new LogFile();
        for (var frame = 1; frame <= 1800; frame++)
            log.Row(frame * 0.05, 1, level + (3 * random.NextDouble()), level - 10 + (0.3 * random.NextDouble()));
        var channel = Assert.Single(log.Measure().Channels);
        Assert.Null(channel.Proposal);
        Assert.Null(channel.PredictedShowPeakDbfs);
        Assert.Empty(channel.Events);
    }

    [Fact]
    public void Two_hundred_channels_are_each_reported_alone()
    {
        var log = new LogFile();
        for (var frame = 1; frame <= 300; frame++)
        {
            for (var channel = 1; channel <= 200; channel++)
                log.Row(frame * 0.05, channel, channel % 2 == 0 ? -90 + (frame * 7 % 3) : Math.Max(-75, -20 - (frame % 20)));
        }

        var document = log.Measure();
        Assert.Equal(Enumerable.Range(1, 200), document.Channels.Select(channel => channel.Channel));
        Assert.All(document.Channels, channel => Assert.Equal(channel.Channel % 2 == 1, channel.Proposal is not null));
        Assert.All(document.Channels, channel => Assert.Empty(channel.Events));
    }

    [Fact]
    public void One_reading_alone_is_a_report_without_a_proposal()
    {
        var channel = Assert.Single(new LogFile().Row(0.05, 7, -20).Measure().Channels);
        Assert.Equal((7, null), (channel.Channel, channel.Proposal));
        Assert.NotNull(channel.Withheld);
    }
}
