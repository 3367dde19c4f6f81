using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Tests.Listening.Levels;

/// <summary>Plays levels into a level listener.</summary>
internal static class Played
{
    public const double FrameS = 0.05;

    public static readonly MeterTraits Traits = new(FrameS, Tap: MeterTap.Converter, FollowsMute: false);

    // Whole hundredths, as the tape keeps them, and no two that lie five decibels apart: on the edge of a limit a rounding decides.
    private const double StepDb = 0.03;

    /// <summary>A minute and a half of notes over noise: half of the seconds are played, each with a hit of its own strength.</summary>
    public static float[] Notes(int seed, double loudestDbfs = -24, double scaleDb = 2, int seconds = 90)
    {
        var random = new Random(seed);
        var levels = new float[(int)(seconds / FrameS)];
        for (var second = 0; second < seconds; second++)
        {
            var hit = StepDb * Math.Round((loudestDbfs + (scaleDb * -Math.Log(1 - random.NextDouble())) - (4 * scaleDb)) / StepDb);
            for (var frame = 0; frame < 20; frame++)
                levels[(second * 20) + frame] = (float)Math.Max(second % 2 == 0 ? hit - frame : -200, -80 + random.NextDouble());
        }

        return levels;
    }

    public static LevelListener Into(LevelListener listener, IEnumerable<float> levels, double gainDb = 0, double fromS = 0)
    {
        var frame = 0;
        foreach (var level in levels)
        {
            var peak = level + (float)gainDb;
            listener.Observe(new MeterReading(1, fromS + (++frame * FrameS), peak, peak - 9));
        }

        return listener;
    }

    public static InputReport Report(IEnumerable<float> levels, double gainDb = 0) =>
        Into(new LevelListener(1, Traits), levels, gainDb).Report(new ReportOptions());
}
