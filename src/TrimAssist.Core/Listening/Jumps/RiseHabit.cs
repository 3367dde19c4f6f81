using System.Runtime.Intrinsics;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// How this input's own onsets look: a drum repeats its hit and a player a note, a plug is pulled once. Remembers the last onsets that
/// turned out harmless.
/// </summary>
internal sealed class RiseHabit
{
    /// <summary>Numbers that describe one onset.</summary>
    public const int ShapeLength = 8;

    private const int Room = 24;

    /// <summary>With this many onsets remembered an input counts as known.</summary>
    public const int KnownFrom = 3;

    /// <summary>A strange onset's distance in dB; no onset lies further away.</summary>
    private const float Farthest = 15f;

    /// <summary>The first number of all shapes, then the second of all, and so on: four onsets are compared at once.</summary>
    private readonly float[] _shapes = new float[Room * ShapeLength];
    private readonly float[] _peaks = new float[Room];
    private readonly float[] _rises = new float[Room];
    private long _count;

    public bool Known => _count >= KnownFrom;

    public void Remember(ReadOnlySpan<float> shape, float peak, float rise)
    {
        var at = (int)(_count++ % Room);
        for (var k = 0; k < ShapeLength; k++)
            _shapes[(k * Room) + at] = shape[k];
        (_peaks[at], _rises[at]) = (peak, rise);
    }

    /// <summary>How many remembered onsets came near this peak and this rise, or above them; at most <see cref="KnownFrom"/> are counted.</summary>
    public int Alike(float peak, float rise, float slackDb)
    {
        var like = 0;
        for (var i = 0; i < Math.Min(_count, Room) && like < KnownFrom; i++)
        {
            if (_peaks[i] >= peak - slackDb && _rises[i] >= rise - (2 * slackDb))
                like++;
        }

        return like;
    }

    /// <summary>Root mean square distance in dB to the nearest and the third nearest remembered onset.</summary>
    public (float Nearest, float Third) Distance(ReadOnlySpan<float> shape)
    {
        Span<float> distances = stackalloc float[Room];
        for (var i = 0; i < Room; i += Vector128<float>.Count)
            Distances(shape, i).CopyTo(distances[i..]);
        var (first, second, third) = (Farthest, Farthest, Farthest);
        foreach (var distance in distances[..(int)Math.Min(_count, Room)])
        {
            if (distance < first)
                (first, second, third) = (distance, first, second);
            else if (distance < second)
                (second, third) = (distance, second);
            else if (distance < third)
                third = distance;
        }

        return (first, third);
    }

    private Vector128<float> Distances(ReadOnlySpan<float> shape, int onset)
    {
        var sum = Vector128<float>.Zero;
        for (var k = 0; k < ShapeLength; k++)
        {
            var off = Vector128.Create(shape[k]) - Vector128.Create(_shapes.AsSpan((k * Room) + onset));
            sum += off * off;
        }

        return Vector128.Sqrt(sum / ShapeLength);
    }
}
