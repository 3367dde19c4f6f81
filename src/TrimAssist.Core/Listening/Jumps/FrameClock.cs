namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Numbers the frames of one desk. Most readings carry the same time as the one before, because a desk sends all its inputs at once: what a
/// time means is worked out where it is new.
/// </summary>
internal sealed class FrameClock(double frameS)
{
    private const double LongestPoolS = 0.05;

    /// <summary>Frames may be a little off the wanted length.</summary>
    private const double SlackS = 1e-6;

    /// <summary>Times are rounded, and a frame pooled of several may end before its last one.</summary>
    private const double FrameSlack = 0.25;

    private double _timeS = double.NaN;

    /// <summary>Length of a frame in seconds.</summary>
    public double FrameS => frameS;

    /// <summary>How many frames make up a pooled one of about 50 ms.</summary>
    public int PoolFrames { get; } = Math.Max(1, (int)((LongestPoolS + SlackS) / frameS));

    /// <summary>Length of a pooled frame in seconds.</summary>
    public double PooledS => PoolFrames * frameS;

    /// <summary>The number of the pool that the present frame belongs to.</summary>
    public double Pool { get; private set; }

    /// <summary>Whether the present frame is the last of its pool.</summary>
    public bool EndsPool { get; private set; }

    /// <summary>The number of the pooled frame that would end with the present one, alike for all inputs.</summary>
    public long Pooled { get; private set; }

    /// <summary>Makes the frame that ends at <paramref name="timeS"/> the present one.</summary>
    public void MoveTo(double timeS)
    {
        if (timeS == _timeS)
            return;
        _timeS = timeS;
        var frame = Math.Round(timeS / frameS);
        Pool = Math.Ceiling(frame / PoolFrames);
        EndsPool = frame == Pool * PoolFrames;
        Pooled = (long)Math.Ceiling((timeS / PooledS) - FrameSlack);
    }
}
