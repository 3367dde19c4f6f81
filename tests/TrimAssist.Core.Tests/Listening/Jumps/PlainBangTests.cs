using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

/// <summary>
/// The plain case that nobody forgives: an open input at rest, one loud frame, rest again. Nothing that sounds through the air falls by
/// 40 dB and more within a frame or two, so no later frame may take the word back.
/// </summary>
public sealed class PlainBangTests
{
    public static TheoryData<int, float, float, bool> Bangs
    {
        get
        {
            var bangs = new TheoryData<int, float, float, bool>();
            foreach (var frameMs in new[] { 10, 20, 50, 100 })
            {
                foreach (var peak in new[] { -3f, -12f, -20f })
                {
                    foreach (var crest in new[] { 7f, 12f, 24f })
                        bangs.Add(frameMs, peak, crest, true);
                    bangs.Add(frameMs, peak, 0, false);
                }
            }

            return bangs;
        }
    }

    [Theory]
    [MemberData(nameof(Bangs))]
    public void One_loud_frame_out_of_rest_and_back_is_a_pop_at_once_and_stays_one(int frameMs, float peak, float crest, bool withRms)
    {
        var story = new MeterStory(frameMs, withRms).Rest(6);
        var at = story.NowS + story.FrameS;

        story.Frame(peak, crest).Rest(2);

        Assert.Equal((FindingKind.Pop, FindingStage.Raised), (story.Words[0].Word.Kind, story.Words[0].Word.Stage));
        Assert.Equal(at, story.Words[0].SaidS);
        Assert.Equal([FindingKind.Pop], story.Kinds);
    }

    // Frames of 20 ms are judged two by two, of 10 ms five by five; the word must not wait for the last of them.
    [Theory]
    [InlineData(10)]
    [InlineData(20)]
    public void A_word_comes_with_its_own_frame_wherever_that_lies(int frameMs)
    {
        for (var place = 0; place < 6; place++)
        {
            var story = new MeterStory(frameMs).Rest(6 + (place * frameMs / 1000.0));
            var at = story.NowS + story.FrameS;

            story.Frame(-6, 12).Rest(2);

            Assert.Equal(at, story.Words[0].SaidS);
            Assert.Equal([FindingKind.Pop], story.Kinds);
        }
    }

    // Mains of 60 Hz needs 0.2 s until frames of 40 ms lie whole cycles apart.
    [Theory]
    [InlineData(50, 50)]
    [InlineData(60, 50)]
    [InlineData(50, 20)]
    [InlineData(60, 20)]
    public void A_plug_that_hums_is_told_by_its_hum_whatever_the_mains(int mainsHz, int frameMs)
    {
        float Hum(double t) => -34 + (float)(4 * Math.Sin(2 * Math.PI * ((mainsHz * t) + 0.1)));
        var story = new MeterStory(frameMs).Rest(4, -75).For(0.8, t => (Hum(t), 6));

        Assert.Contains(FindingKind.Pop, story.Rest(2, -75).Kinds);
    }

    // A stage box that loses its power, or a cable into several inputs: it is heard as a bang on each, not as a band that begins.
    [Theory]
    [InlineData(20, 150, 0.4)]
    [InlineData(50, 150, 0.4)]
    [InlineData(100, 150, 0.4)]
    [InlineData(20, 30, 2)]
    [InlineData(50, 30, 2)]
    [InlineData(100, 30, 2)]
    public void A_bang_on_every_input_in_the_same_frame_is_one_on_each(int frameMs, double fallDbPerS, double lastsS)
    {
        var story = new MeterStory(frameMs).Rest(6);
        story.For(lastsS, t => (Math.Max(-70, -10 - (float)(fallDbPerS * t)), t < story.FrameS ? 7 : 0.5f), everybody: true).Rest(2);

        for (var input = 1; input <= 4; input++)
            Assert.Equal(FindingKind.Pop, story.Settled.Of(input)[0].Kind);
    }

    // A desk that rounds its meters, or a line without any noise, rests on one figure.
    [Theory]
    [InlineData(-60)]
    [InlineData(-90)]
    [InlineData(float.NegativeInfinity)]
    public void A_rest_that_never_moves_hides_no_bang(float rest)
    {
        var ring = new FindingRing();
        var stage = new StageListener(1, new MeterTraits(0.05, Tap: MeterTap.Converter, FollowsMute: false));
        var settled = new SettledFindings();
        for (var frame = 1; frame <= 200; frame++)
        {
            stage.Observe(new MeterReading(1, frame * 0.05, frame == 120 ? -6 : rest, float.NaN), ring);
            while (ring.TryTake(out var word))
                settled.Take(word);
        }

        Assert.Equal([FindingKind.Pop], settled.Of(1).Select(finding => finding.Kind));
    }

    // Frame peaks of noise scatter by a few dB, more the shorter the frame.
    [Theory]
    [InlineData(-3)]
    [InlineData(-12)]
    [InlineData(-20)]
    public void A_restless_rest_hides_no_bang(float peak)
    {
        var ring = new FindingRing();
        var stage = new StageListener(1, new MeterTraits(0.05, Tap: MeterTap.Converter, FollowsMute: false));
        var settled = new SettledFindings();
        var random = new Random(5);
        float Scatter() => (float)(1.5 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
        for (var frame = 1; frame <= 300; frame++)
        {
            var level = frame == 200 ? peak : -70;
            stage.Observe(new MeterReading(1, frame * 0.05, level + Scatter(), level - 12 + Scatter()), ring);
            while (ring.TryTake(out var word))
                settled.Take(word);
        }

        Assert.Equal([FindingKind.Pop], settled.Of(1).Select(finding => finding.Kind));
    }

    [Theory]
    [InlineData(20)]
    [InlineData(50)]
    [InlineData(100)]
    public void A_bang_while_others_play_is_one_too(int frameMs)
    {
        var ring = new FindingRing();
        var stage = new StageListener(3, new MeterTraits(frameMs / 1000.0, Tap: MeterTap.Converter, FollowsMute: false));
        var settled = new SettledFindings();
        var random = new Random(3);
        for (var frame = 1; frame * frameMs <= 12_000; frame++)
        {
            for (var input = 1; input <= 3; input++)
            {
                var level = input == 1 ? (frame * frameMs == 9_000 ? -6 : -68) : -20;
                var peak = level + (3 * random.NextSingle());
                stage.Observe(new MeterReading(input, frame * frameMs / 1000.0, peak, peak - 10), ring);
            }

            while (ring.TryTake(out var word))
                settled.Take(word);
        }

        Assert.Equal([FindingKind.Pop], settled.Of(1).Select(finding => finding.Kind));
    }
}
