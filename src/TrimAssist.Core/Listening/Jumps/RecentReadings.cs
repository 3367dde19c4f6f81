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

    private readonly float[] _peak;
    private readonly float[] _rms;
    private readonly float[] _rise;
    private readonly int _mask;
    private readonly float _crestOffset;

    public RecentReadings(double frameS, double sineCrestDb)
    {
        FrameS = frameS;
        var size = 16;
        while (size < ReachS / frameS)
            size *= 2;
        _mask = size - 1;
        _peak = new float[size];
        _rms = new float[size];
        _rise = new float[size];
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

    public void Clear() => Count = 0;

    public void Push(long frame, float peak, float rms)
    {
        Newest = frame;
        HasRms = !float.IsNaN(rms);
        var level = peak > Silence ? Math.Min(peak, 60f) : Silence;
        var power = HasRms ? Math.Clamp(rms - _crestOffset, Silence, level) : level - NoiseCrestDb;
        var at = (int)(Count++ & _mask);
        _peak[at] = level;
        _rms[at] = Math.Max(power, Silence - NoiseCrestDb);
        _rise[at] = 0;
    }

    public float Peak(int back) => _peak[(Count - 1 - back) & _mask];

    public float Rms(int back) => _rms[(Count - 1 - back) & _mask];

    public float Crest(int back) => Peak(back) - Rms(back);

    public ref float Rise(int back) => ref _rise[(Count - 1 - back) & _mask];

    /// <summary>Frames at and before <paramref name="back"/> that are still held, at most <paramref name="wanted"/>.</summary>
    public int Held(int back, int wanted) => (int)Math.Max(0, Math.Min(wanted, Math.Min(Count, _mask + 1) - back));

    /// <summary>Whether <paramref name="frames"/> frames at and before <paramref name="back"/> are held.</summary>
    public bool Holds(int back, int frames) => back >= 0 && Held(back, frames) == frames;

    /// <summary>Highest peak of <paramref name="frames"/> frames, the newest of them <paramref name="back"/> frames ago.</summary>
    public float Highest(int back, int frames)
    {
        var highest = Silence;
        for (var i = Held(back, frames) - 1; i >= 0; i--)
            highest = Math.Max(highest, Peak(back + i));
        return highest;
    }

    /// <summary>Lowest peak of <paramref name="frames"/> frames, the newest of them <paramref name="back"/> frames ago.</summary>
    public float Lowest(int back, int frames)
    {
        var lowest = 0f;
        for (var i = Held(back, frames) - 1; i >= 0; i--)
            lowest = Math.Min(lowest, Peak(back + i));
        return lowest;
    }

    /// <summary>Median peak of those frames.</summary>
    public float Median(int back, int frames)
    {
        var held = Math.Min(Held(back, frames), 64);
        if (held == 0)
            return Silence;
        Span<float> sorted = stackalloc float[64];
        for (var i = 0; i < held; i++)
            sorted[i] = Peak(back + i);
        sorted[..held].Sort();
        return (sorted[(held - 1) / 2] + sorted[held / 2]) / 2;
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
    public float Spread(int back, int frames) => Spread(_peak, back, frames);

    /// <summary>Standard deviation of those frames' RMS in dB.</summary>
    public float RmsSpread(int back, int frames) => Spread(_rms, back, frames);

    private float Spread(float[] levels, int back, int frames)
    {
        var held = Held(back, frames);
        if (held < 2)
            return 9f;
        double sum = 0, squares = 0;
        for (var i = 0; i < held; i++)
        {
            double level = levels[(Count - 1 - back - i) & _mask];
            sum += level;
            squares += level * level;
        }

        return (float)Math.Sqrt(Math.Max(0, (squares / held) - (sum / held * (sum / held))));
    }
}
