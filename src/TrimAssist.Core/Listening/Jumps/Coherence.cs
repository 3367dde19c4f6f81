namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// What all inputs of one desk did in the same frame. Players start together, and a crash or applause reaches many microphones; a plug is
/// pulled on one input alone.
/// </summary>
internal sealed class Coherence(double frameS)
{
    /// <summary>How long rises are remembered: longer than the half second a listener takes to decide.</summary>
    private const double ReachS = 1.2;

    /// <summary>How long two rises must run alike to be one sound.</summary>
    private const double AlikeS = 0.25;

    /// <summary>What another input must rise by to have heard the same, and by what it surely did.</summary>
    private const float HeardDb = 4;

    private const float SurelyHeardDb = 10;

    /// <summary>Frame-to-frame changes that differ by this much on average have nothing in common.</summary>
    private const float UnlikeDb = 4;

    /// <summary>Times are rounded, and a frame pooled of several may end before its last one.</summary>
    private const double FrameSlack = 0.25;

    private readonly int _alikeFrames = Math.Max(1, (int)Math.Round(AlikeS / frameS));
    private readonly List<RecentReadings> _inputs = [];
    private readonly float[] _sum = new float[Size(frameS)];
    private readonly int[] _count = new int[Size(frameS)];
    private readonly long[] _frame = NewFrames(Size(frameS));

    private static int Size(double frameS) => Math.Max(8, (int)(ReachS / frameS) + 4);

    private static long[] NewFrames(int size)
    {
        var frames = new long[size];
        Array.Fill(frames, long.MinValue);
        return frames;
    }

    /// <summary>Takes in an input of the desk.</summary>
    public void Join(RecentReadings input) => _inputs.Add(input);

    /// <summary>The number of the frame that ends at <paramref name="timeS"/>.</summary>
    public long FrameAt(double timeS) => (long)Math.Ceiling((timeS / frameS) - FrameSlack);

    /// <summary>Notes that one input rose by <paramref name="riseDb"/> in a frame.</summary>
    public void Note(long frame, float riseDb)
    {
        var at = (int)(((frame % _sum.Length) + _sum.Length) % _sum.Length);
        if (_frame[at] != frame)
        {
            (_frame[at], _sum[at], _count[at]) = (frame, 0, 0);
        }

        _sum[at] += riseDb;
        _count[at]++;
    }

    /// <summary>What rose within one frame of <paramref name="frame"/>: the sum of rises in dB and how many there were.</summary>
    public (float RiseDb, int Rises) Around(long frame)
    {
        var (sum, count) = (0f, 0);
        for (var f = frame - 1; f <= frame + 1; f++)
        {
            var at = (int)(((f % _sum.Length) + _sum.Length) % _sum.Length);
            if (_frame[at] != f)
                continue;
            sum += _sum[at];
            count += _count[at];
        }

        return (sum, count);
    }

    /// <summary>
    /// How much the input most like it rose and fell together with one input from <paramref name="frame"/> on: 0 nothing alike, 1 the same
    /// sound. A voice or a drum spills into other microphones; a plug does not.
    /// </summary>
    public float Spill(RecentReadings own, long frame)
    {
        var best = 0f;
        foreach (var other in _inputs)
        {
            if (!ReferenceEquals(other, own))
                best = Math.Max(best, Likeness(own, other, frame));
        }

        return best;
    }

    private float Likeness(RecentReadings own, RecentReadings other, long frame)
    {
        var (mine, theirs) = ((int)(own.Newest - frame), (int)(other.Newest - frame));
        if (theirs < _alikeFrames || !other.Holds(theirs - 1, 5))
            return 0;
        var rose = other.Highest(theirs - 1, 3) - other.Highest(theirs + 2, 2);
        if (rose < HeardDb)
            return 0;
        var unlike = 0f;
        for (var k = 0; k < _alikeFrames; k++)
        {
            var change = own.Peak(mine - k - 1) - own.Peak(mine - k);
            unlike += Math.Abs(change - (other.Peak(theirs - k - 1) - other.Peak(theirs - k))) / _alikeFrames;
        }

        return Math.Max(0, 1 - (unlike / UnlikeDb)) * Math.Min(1, rose / SurelyHeardDb);
    }
}
