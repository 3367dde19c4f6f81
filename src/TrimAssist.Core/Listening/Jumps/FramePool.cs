using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Makes one frame of about 50 ms of several short ones: a level out of 20 ms scatters more and repeats the mains less well, so that what
/// tells a plug from a player shows less. What cannot wait for the pool to fill is judged by what it holds so far.
/// </summary>
internal sealed class FramePool(FrameClock clock)
{
    private readonly bool _passesOn = clock.PoolFrames == 1;
    private readonly MeanLevel _rms = new(clock.PoolFrames);
    private double _pool;
    private int _held;
    private long _number;
    private double _timeS;

    /// <summary>Whether frames are held that wait for more, and the highest peak among them.</summary>
    public bool Waits => _held > 0;

    public float PeakDbfs { get; private set; }

    /// <summary>Takes the clock's present frame; true when a pooled one is complete, or was cut short by a lost frame.</summary>
    public bool Add(in MeterReading reading, out PooledFrame pooled)
    {
        if (_passesOn)
        {
            pooled = new(clock.Pooled, reading.TimeS, reading.PeakDbfs, reading.RmsDbfs);
            return true;
        }

        var cutShort = _held > 0 && clock.Pool != _pool;
        pooled = cutShort ? Take() : default;
        PeakDbfs = _held == 0 ? reading.PeakDbfs : Math.Max(PeakDbfs, reading.PeakDbfs);
        (_pool, _number, _timeS) = (clock.Pool, clock.Pooled, reading.TimeS);
        _held++;
        if (!float.IsNaN(reading.RmsDbfs))
            _rms.Add(reading.RmsDbfs);
        if (cutShort || !clock.EndsPool)
            return cutShort;
        pooled = Take();
        return true;
    }

    /// <summary>Lets go of what is not complete.</summary>
    public void Clear()
    {
        _held = 0;
        _rms.Clear();
    }

    private PooledFrame Take()
    {
        var pooled = new PooledFrame(_number, _timeS, PeakDbfs, _rms.Db());
        Clear();
        return pooled;
    }
}
