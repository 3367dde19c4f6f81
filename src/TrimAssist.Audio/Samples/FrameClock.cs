namespace TrimAssist.Audio.Samples;

/// <summary>Cuts a stream of samples into equal spans of time whose ends are rounded to the nearest sample, so that odd lengths never drift.</summary>
public sealed class FrameClock
{
    private readonly double _samplesPerSpan;
    private readonly int _sampleRate;
    private long _spans;
    private long _heard;

    /// <summary>A clock at zero.</summary>
    /// <param name="spanS">Length of a span in seconds.</param>
    /// <param name="sampleRate">Samples per second.</param>
    /// <exception cref="ArgumentOutOfRangeException">A span would be shorter than one sample or longer than an hour.</exception>
    public FrameClock(double spanS, int sampleRate)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(spanS, 3600);
        _samplesPerSpan = spanS * sampleRate;
        ArgumentOutOfRangeException.ThrowIfLessThan(_samplesPerSpan, 1, nameof(spanS));
        _sampleRate = sampleRate;
    }

    /// <summary>Samples still missing to the end of the running span.</summary>
    public int Missing => (int)(EndOf(_spans) - _heard);

    /// <summary>Samples that the running span already has.</summary>
    public int Begun => (int)(_heard - EndOf(_spans - 1));

    /// <summary>Time heard so far in seconds.</summary>
    public double NowS => (double)_heard / _sampleRate;

    /// <summary>Takes samples, at most <see cref="Missing"/>; <see langword="true"/> when they complete the span, and the next begins.</summary>
    public bool Advance(int samples)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(samples, Missing);
        _heard += samples;
        if (Missing > 0)
            return false;
        _spans++;
        return true;
    }

    private long EndOf(long span) => (long)Math.Round((span + 1) * _samplesPerSpan, MidpointRounding.AwayFromZero);
}
