namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// What all inputs of one desk did in the same frame. Players start together, and a crash or applause reaches many microphones; a plug is
/// pulled on one input alone.
/// </summary>
internal sealed class Coherence(double frameS)
{
    /// <summary>How long rises are remembered: longer than the half second a listener takes to decide.</summary>
    private const double ReachS = 1.2;

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

    /// <summary>The number of the frame that ends at <paramref name="timeS"/>.</summary>
    public long FrameAt(double timeS) => (long)Math.Round(timeS / frameS);

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
}
