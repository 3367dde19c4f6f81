namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// What all inputs of one desk did in the same frame. Players start together, and a crash or applause reaches many microphones; a plug is
/// pulled on one input alone. Only a stage box that loses its power bangs on many at once: what is a bang itself speaks for no player.
/// </summary>
internal sealed class Coherence(double frameS)
{
    /// <summary>How long two rises must run alike to be one sound.</summary>
    private const double AlikeS = 0.25;

    /// <summary>What another input must rise by to have heard the same, and by what it surely did.</summary>
    private const float HeardDb = 4;

    private const float SurelyHeardDb = 10;

    /// <summary>Frame-to-frame changes that differ by this much on average have nothing in common.</summary>
    private const float UnlikeDb = 4;

    /// <summary>A bang is this far out of its rest and nearly all of that gone again within <see cref="GoneS"/>: drums fall more slowly.</summary>
    private const float BangDb = 30;

    private const float GoneDb = 28;

    private const double GoneS = 0.25;

    private readonly int _alikeFrames = Math.Max(1, (int)Math.Round(AlikeS / frameS));
    private readonly List<RecentReadings> _inputs = [];

    /// <summary>Takes in an input of the desk.</summary>
    public void Join(RecentReadings input) => _inputs.Add(input);

    /// <summary>What the others did within one frame of <paramref name="frame"/>, in which <paramref name="own"/> rose.</summary>
    public OtherInputs Around(RecentReadings own, long frame)
    {
        var (sum, rises, spill) = (0f, 0, 0f);
        foreach (var other in _inputs)
        {
            if (ReferenceEquals(other, own) || IsBang(other, frame))
                continue;
            for (var f = frame - 1; f <= frame + 1; f++)
            {
                var back = other.Newest - f;
                if (back < 0 || !other.Holds((int)back, 1) || other.Rise((int)back) <= 0)
                    continue;
                sum += other.Rise((int)back);
                rises++;
            }

            spill = Math.Max(spill, Likeness(own, other, frame));
        }

        return new(sum, rises, spill);
    }

    private static bool IsBang(RecentReadings h, long frame)
    {
        var (at, rest) = ((int)(h.Newest - frame), h.Frames(0.5));
        var later = h.Frames(GoneS);
        if (at < later + 1 || !h.Holds(at + 2, rest))
            return false;
        var top = h.Highest(at - 1, 3);
        return h.Highest(at - later - 1, 2) <= top - GoneDb && top - h.Median(at + 2, rest) >= BangDb;
    }

    // how much another rose and fell together with one input: 0 nothing alike, 1 the same sound
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
