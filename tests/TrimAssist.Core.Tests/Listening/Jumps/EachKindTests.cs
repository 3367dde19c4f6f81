using TrimAssist.Core.Listening;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

public sealed class EachKindTests
{
    public static TheoryData<int> Frames => [20, 50, 100];

    [Theory]
    [MemberData(nameof(Frames))]
    public void A_loud_plug_is_called_a_pop_with_its_own_frame_and_stays_one(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(3);
        var at = story.NowS + story.FrameS;
        story.Pop(-6);
        var first = story.Words[0];
        Assert.Equal((FindingKind.Pop, FindingStage.Raised), (first.Word.Kind, first.Word.Stage));
        Assert.Equal(at, first.SaidS);
        Assert.Equal([FindingKind.Pop], story.Kinds);
        Assert.InRange(story.Settled.Of(1)[0].SizeDb, 55, 70);
        Assert.True(story.Words.Max(word => word.SaidS) <= at + 0.5 + (2 * story.FrameS));
    }

    [Theory]
    [MemberData(nameof(Frames))]
    public void A_bad_contact_is_called_crackle_by_its_third_click(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(3);
        for (var click = 0; click < 5; click++)
            story.Frame(-15, 24).Rest(0.2);
        Assert.Contains(FindingKind.Crackle, story.Kinds);
    }

    [Theory]
    [MemberData(nameof(Frames))]
    public void Feedback_is_a_tone_that_grows_on_a_straight_line(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(3, -50);
        story.For(1.6, t => ((float)(-48 + (20 * t)), 0.6f));
        Assert.Contains(FindingKind.Ring, story.Kinds);
    }

    [Theory]
    [MemberData(nameof(Frames))]
    public void A_signal_that_vanishes_far_below_its_rest_has_dropped_out_and_the_end_is_said(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(5, -55).For(0.5, _ => (-95, 8)).Rest(1, -55);
        Assert.Equal([FindingKind.Dropout], story.Kinds);
        Assert.Contains(story.Words, word => word.Word is { Kind: FindingKind.Dropout, Stage: FindingStage.Ended });
    }

    // a plug was out for a second before: the lowest reading so far says nothing
    [Theory]
    [InlineData(20)]
    [InlineData(50)]
    public void An_even_rest_that_falls_has_lost_its_source_however_quiet_the_input_was_before(int frameMs)
    {
        static MeterStory Told(int frameMs, float fallDb) =>
            new MeterStory(frameMs).For(1, _ => (-95, 7.5f)).For(8, _ => (-60, 7.5f)).For(1, _ => (-60 - fallDb, 7.5f)).For(1, _ => (-60, 7.5f));
        Assert.Contains(FindingKind.Dropout, Told(frameMs, 30).Kinds);
        Assert.DoesNotContain(FindingKind.Dropout, Told(frameMs, 20).Kinds);
    }

    [Fact]
    public void A_noise_that_jumps_by_a_pads_worth_and_stays_noise_is_a_step_up()
    {
        var story = new MeterStory(50).For(3, _ => (-60, 7.9f)).For(2, _ => (-40, 7.9f));
        Assert.Equal([FindingKind.StepUp], story.Kinds);
        Assert.Equal(20, story.Settled.Of(1)[0].SizeDb, 1f);
    }

    [Fact]
    public void A_full_converter_is_an_overload_until_half_a_second_after_the_last_full_frame()
    {
        var story = new MeterStory(50).Rest(2, -20).For(0.2, _ => (0, 3)).Rest(1, -20);
        var overloads = story.Words.Where(word => word.Word.Kind == FindingKind.Overload).Select(word => word.Word.Stage);
        Assert.Equal([FindingStage.Raised, FindingStage.Ended], overloads);
    }

    [Fact]
    public void Noise_that_rises_and_stays_is_named_after_three_seconds()
    {
        var story = new MeterStory(50).Rest(10).For(0.5, t => (-70 + (float)(30 * t), 7.9f)).Rest(6, -55);
        Assert.Equal(1, story.Kinds.Count(kind => kind == FindingKind.NoiseRise));
    }

    [Fact]
    public void A_player_louder_than_expected_twice_within_seconds_is_hot_until_he_is_not()
    {
        var story = new MeterStory(50).Rest(3);
        story.Stage.Expect(1, -20);
        for (var note = 0; note < 4; note++)
            story.Note(-15).Rest(0.6);
        story.Rest(11);
        var hot = story.Words.Where(word => word.Word.Kind == FindingKind.Hot).Select(word => word.Word).ToList();
        Assert.Equal([FindingStage.Raised, FindingStage.Ended], hot.Select(word => word.Stage));
        Assert.InRange(hot[0].SizeDb, 3, 7);
    }

    [Fact]
    public void One_bang_or_playing_as_expected_is_not_hot()
    {
        var story = new MeterStory(50).Rest(3);
        story.Stage.Expect(1, -20);
        story.Pop(-6).Rest(2);
        for (var note = 0; note < 4; note++)
            story.Note(-24).Rest(0.6);
        Assert.DoesNotContain(FindingKind.Hot, story.Kinds);
    }
}
