using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

public sealed class DeskChangeTests
{
    [Fact]
    public void A_jump_that_the_desk_made_itself_is_no_event()
    {
        var quiet = new MeterStory(50).Rest(5, -60);
        quiet.Stage.SettingsChanged(1, quiet.NowS, 0);
        quiet.Rest(5, -40);
        Assert.Empty(quiet.Words);
        var untold = new MeterStory(50).For(5, _ => (-60, 7.9f)).For(5, _ => (-40, 7.9f));
        Assert.NotEmpty(untold.Words);
    }

    [Fact]
    public void A_muted_input_whose_meter_follows_the_mute_has_not_dropped_out()
    {
        var story = new MeterStory(50).Rest(5, -40);
        story.Stage.SettingsChanged(1, story.NowS, 0, muted: true);
        story.For(3, _ => (-120, 0));
        story.Stage.SettingsChanged(1, story.NowS, 0, muted: false);
        story.Rest(3, -40);
        Assert.Empty(story.Words);
    }

    [Fact]
    public void After_a_digital_trim_full_scale_lies_at_that_trim()
    {
        var story = new MeterStory(50).Rest(2, -20);
        story.Stage.SettingsChanged(1, story.NowS, -10);
        story.Rest(1, -20).Frame(-10, 3);
        Assert.Contains(story.Words, word => word.Word.Kind == FindingKind.Overload);
    }

    [Fact]
    public void A_gap_in_the_readings_is_no_event()
    {
        var (stage, ring) = (new StageListener(1, new MeterTraits(0.05)), new FindingRing());
        for (var i = 0; i < 100; i++)
            stage.Observe(new MeterReading(1, i * 0.05, -70, -78), ring);
        for (var i = 0; i < 100; i++)
            stage.Observe(new MeterReading(1, 20 + (i * 0.05), -30 - (i * 0.1f), -38 - (i * 0.1f)), ring);
        Assert.False(ring.TryTake(out _));
    }

    [Fact]
    public void Hearing_allocates_nothing()
    {
        var (stage, ring) = (new StageListener(24, new MeterTraits(0.02)), new FindingRing());
        var (random, frame) = (new Random(3), 0);
        void Play(int frames)
        {
            for (var end = frame + frames; frame < end; frame++)
            {
                for (var input = 1; input <= 24; input++)
                {
                    var level = -70 + (random.Next(50) == 0 ? 60 * random.NextSingle() : 0);
                    stage.Observe(new MeterReading(input, frame * 0.02, level, level - 6), ring);
                }

                while (ring.TryTake(out _))
                {
                }
            }
        }

        Play(2000);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Play(2000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }
}
