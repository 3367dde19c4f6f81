using TrimAssist.Core.Listening;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

public sealed class LookAlikeTests
{
    public static TheoryData<int> Frames => [20, 50, 100];

    [Theory]
    [MemberData(nameof(Frames))]
    public void Notes_from_a_rest_are_no_event_in_the_end(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(3);
        for (var note = 0; note < 6; note++)
            story.Note(-24).Rest(0.6);
        Assert.Empty(story.Kinds);
    }

    [Fact]
    public void What_every_microphone_hears_at_once_is_a_crash_or_a_crowd_and_no_pop()
    {
        var story = new MeterStory(50).Rest(3);
        for (var crash = 0; crash < 3; crash++)
            story.Note(-16, 1, everybody: true).Rest(1);
        Assert.Empty(story.Kinds);
    }

    // Feedback adds as much in every frame. An organ or an overdriven chord is as near a tone, and grows by a key pressed or a string struck.
    [Theory]
    [InlineData(20)]
    [InlineData(50)]
    public void A_held_tone_that_grows_in_one_step_is_no_feedback(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(3, -50);
        story.For(1, _ => (-22, 0.6f)).For(1.5, _ => (-16.5f, 0.6f)).Rest(1, -50);
        Assert.DoesNotContain(FindingKind.Ring, story.Kinds);
    }

    [Fact]
    public void A_swelling_crowd_is_no_event()
    {
        var story = new MeterStory(50).Rest(3).For(2, t => (-70 + (float)(12 * t), 8), everybody: true).Rest(2, -46);
        Assert.DoesNotContain(story.Kinds, kind => kind is not FindingKind.NoiseRise);
    }

    [Fact]
    public void A_music_that_ends_into_a_lower_rest_is_no_drop_out()
    {
        var story = new MeterStory(50).Rest(5, -20).For(1.5, t => (-20 - (float)(45 * t), 8)).Rest(3, -90);
        Assert.DoesNotContain(FindingKind.Dropout, story.Kinds);
    }

    [Fact]
    public void A_level_that_falls_away_after_a_bang_is_the_plug_and_no_drop_out()
    {
        var story = new MeterStory(50).Rest(5, -50).For(0.1, _ => (-12, 8)).For(0.5, t => ((float)Math.Max(-96, -16 - (170 * t)), 4)).Rest(3, -96);
        Assert.Equal([FindingKind.Pop], story.Kinds);
    }

    [Theory]
    [InlineData(20, -24)]
    [InlineData(50, -24)]
    [InlineData(100, -24)]
    public void A_single_note_out_of_a_rest_is_no_event_in_the_end(int frameMs, float peak) =>
        Assert.Empty(new MeterStory(frameMs).Rest(6).Note(peak, 2).Rest(2).Kinds);

    [Theory]
    [MemberData(nameof(Frames))]
    public void A_drum_alone_is_no_event_once_it_has_been_heard_a_few_times(int frameMs)
    {
        var story = new MeterStory(frameMs).Rest(6);
        for (var hit = 0; hit < 4; hit++)
            story.Drum(-20).Rest(1);
        var known = story.NowS;
        for (var hit = 0; hit < 8; hit++)
            story.Drum(-20 + hit).Rest(1);
        Assert.DoesNotContain(story.Settled.Of(1), finding => finding.TimeS > known);
    }
}
