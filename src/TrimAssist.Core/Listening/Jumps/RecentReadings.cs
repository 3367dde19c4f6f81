using System.Runtime.Intrinsics;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>The last few seconds of one input's readings, bounded and made once.</summary>
internal sealed class RecentReadings
{
    /// <summary>The lowest level kept: below every converter's noise; −∞ and NaN are kept as this.</summary>
    public const float Silence = -120f;

    /// <summary>What noise shows between peak and plain RMS in a frame, in dB; stands in where a desk sends no RMS.</summary>
    private const float NoiseCrestDb = 10f;

    /// <summary>How far back the listeners look: 3 s before a rise and half a second after it.</summary>
    private const double ReachS = 4.0;

    private const float LoudestKept = 60f;

    /// <summary>From here on levels are compared four at a time.</summary>
    private const int Few = 8;

    private const int MostForMedian = 64;

    // Levels are kept twice, a round apart, so that every stretch of them lies in one piece.
    private readonly float[] _peak;
    private readonly float[] _rms;
    private readonly float[] _rise;
    private readonly int _round;
    private readonly int _mask;
    private readonly float _crestOffset;
    private int _newest;

    public RecentReadings(double frameS, double sineCrestDb)
    {
        FrameS = frameS;
        _round = 16;
        while (_round < ReachS / frameS)
            _round *= 2;
        _mask = (2 * _round) - 1;
        _peak = new float[2 * _round];
        _rms = new float[2 * _round];
        _rise = new float[2 * _round];
        _newest = _mask;
        _crestOffset = (float)(PlainSineCrestDb - sineCrestDb);
    }

    /// <summary>The crest of a sine against its plain root mean square: 20 log10 √2.</summary>
    public const double PlainSineCrestDb = 3.0103;

    public double FrameS { get; }

    /// <summary>Frames seen since the start or the last change at the desk.</summary>
    public long Count { get; private set; }

    /// <summary>Number of the newest frame by the stage's clock, alike for all inputs.</summary>
    public long Newest { get; private set; }

    /// <summary>Whether the desk sent an RMS with the newest frame.</summary>
    public bool HasRms { get; private set; }

    /// <summary>Number of frames that last about <paramref name="seconds"/>, at least one.</summary>
    public int Frames(double seconds) => Math.Max(1, (int)Math.Round(seconds / FrameS));

    public void Clear() => (Count, _newest) = (0, _mask);

    public void Push(in PooledFrame frame)
    {
        Newest = frame.Number;
        HasRms = !float.IsNaN(frame.RmsDbfs);
        var level = frame.PeakDbfs > Silence ? float.MinNative(frame.PeakDbfs, LoudestKept) : Silence;
        var power = HasRms ? float.MinNative(float.MaxNative(frame.RmsDbfs - _crestOffset, Silence), level) : level - NoiseCrestDb;
        Count++;
        _newest = ((_newest + 1) & (_round - 1)) + _round;
        (_peak[_newest], _rms[_newest], _rise[_newest]) = (level, power, 0);
        (_peak[_newest - _round], _rms[_newest - _round]) = (level, power);
    }

    public float Peak(int back) => _peak[(_newest - back) & _mask];

    public float Rms(int back) => _rms[(_newest - back) & _mask];

    public float Crest(int back) => Peak(back) - Rms(back);

    public ref float Rise(int back) => ref _rise[((_newest - back) & (_round - 1)) + _round];

    /// <summary>Frames at and before <paramref name="back"/> that are still held, at most <paramref name="wanted"/>.</summary>
    public int Held(int back, int wanted) => Math.Max(0, Math.Min(wanted, (int)Math.Min(Count, _round) - back));

    /// <summary>Whether <paramref name="frames"/> frames at and before <paramref name="back"/> are held.</summary>
    public bool Holds(int back, int frames) => back >= 0 && Held(back, frames) == frames;

    /// <summary>Peaks of those of <paramref name="frames"/> frames that are held, oldest first, the newest of them <paramref name="back"/> frames ago.</summary>
    public ReadOnlySpan<float> Peaks(int back, int frames) => Stretch(_peak, back, frames);

    /// <summary>Highest peak of <paramref name="frames"/> frames, the newest of them <paramref name="back"/> frames ago.</summary>
    public float Highest(int back, int frames)
    {
        var peaks = Peaks(back, frames);
        var highest = Silence;
        if (peaks.Length >= Few)
        {
            var four = Vector128.Create(Silence);
            for (; peaks.Length >= Vector128<float>.Count; peaks = peaks[Vector128<float>.Count..])
                four = Vector128.MaxNative(four, Vector128.Create(peaks));
            for (var i = 0; i < Vector128<float>.Count; i++)
                highest = float.MaxNative(highest, four[i]);
        }

        foreach (var peak in peaks)
            highest = float.MaxNative(highest, peak);
        return highest;
    }

    /// <summary>Lowest peak of <paramref name="frames"/> frames, the newest of them <paramref name="back"/> frames ago.</summary>
    public float Lowest(int back, int frames)
    {
        var peaks = Peaks(back, frames);
        var lowest = 0f;
        if (peaks.Length >= Few)
        {
            var four = Vector128<float>.Zero;
            for (; peaks.Length >= Vector128<float>.Count; peaks = peaks[Vector128<float>.Count..])
                four = Vector128.MinNative(four, Vector128.Create(peaks));
            for (var i = 0; i < Vector128<float>.Count; i++)
                lowest = float.MinNative(lowest, four[i]);
        }

        foreach (var peak in peaks)
            lowest = float.MinNative(lowest, peak);
        return lowest;
    }

    /// <summary>Median peak of those frames.</summary>
    public float Median(int back, int frames)
    {
        var peaks = Peaks(back, Math.Min(frames, MostForMedian));
        if (peaks.IsEmpty)
            return Silence;
        // So few are sorted soonest by insertion; newest first, because what dies away is in order then.
        Span<float> sorted = stackalloc float[MostForMedian];
        for (var taken = 0; taken < peaks.Length; taken++)
        {
            var (peak, at) = (peaks[^(taken + 1)], taken);
            for (; at > 0 && sorted[at - 1] > peak; at--)
                sorted[at] = sorted[at - 1];
            sorted[at] = peak;
        }

        return (sorted[(peaks.Length - 1) / 2] + sorted[peaks.Length / 2]) / 2;
    }

    /// <summary>Mean RMS of those frames in dB.</summary>
    public float MeanRms(int back, int frames)
    {
        var sum = 0f;
        for (var i = 0; i < frames; i++)
            sum += Rms(back + i);
        return sum / frames;
    }

    /// <summary>Mean crest of those frames in dB.</summary>
    public float MeanCrest(int back, int frames)
    {
        var sum = 0f;
        for (var i = 0; i < frames; i++)
            sum += Crest(back + i);
        return sum / frames;
    }

    /// <summary>Standard deviation of those frames' peaks in dB.</summary>
    public float Spread(int back, int frames) => Spread(Peaks(back, frames));

    /// <summary>Standard deviation of those frames' RMS in dB.</summary>
    public float RmsSpread(int back, int frames) => Spread(Stretch(_rms, back, frames));

    private static float Spread(ReadOnlySpan<float> levels)
    {
        if (levels.Length < 2)
            return 9f;
        double sum = 0, squares = 0;
        for (var i = levels.Length - 1; i >= 0; i--)
        {
            double level = levels[i];
            sum += level;
            squares += level * level;
        }

        return (float)Math.Sqrt(Math.Max(0, (squares / levels.Length) - (sum / levels.Length * (sum / levels.Length))));
    }

    private ReadOnlySpan<float> Stretch(float[] levels, int back, int frames)
    {
        var held = Held(back, frames);
        return held == 0 ? [] : levels.AsSpan(_newest - back - held + 1, held);
    }
}
