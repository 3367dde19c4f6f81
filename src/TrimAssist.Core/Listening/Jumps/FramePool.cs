using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Makes one frame of about 50 ms of several short ones: a level out of 20 ms scatters more and repeats the mains less well, so that what
/// tells a plug from a player shows less. What cannot wait for the pool to fill is judged by what it holds so far.
/// </summary>
internal sealed class FramePool(FrameClock clock)
{
    private readonly MeanLevel _rms = new(clock.PoolFrames);
    private double _pool;
    private int _held;
    private long _number;
    private double _timeS;

    /// <summary>The highest peak among what is held.</summary>
    public float PeakDbfs { get; private set; }

    /// <summary>Whether the clock's present frame belongs to another pool than what is held: a frame was lost.</summary>
    public bool IsCutShort => _held > 0 && clock.Pool != _pool;

    /// <summary>Takes the clock's present frame in.</summary>
    public void Add(in MeterReading reading)
    {
        PeakDbfs = _held == 0 ? reading.PeakDbfs : Math.Max(PeakDbfs, reading.PeakDbfs);
        (_pool, _number, _timeS) = (clock.Pool, clock.Pooled, reading.TimeS);
        _held++;
        if (!float.IsNaN(reading.RmsDbfs))
            _rms.Add(reading.RmsDbfs);
    }

    /// <summary>Gives what is held as one frame, and lets go of it.</summary>
    public PooledFrame Take()
    {
        var rms = _rms.Db();
        Clear();
        return new(_number, _timeS, PeakDbfs, rms);
    }

    /// <summary>Lets go of what is held.</summary>
    public void Clear()
    {
        _held = 0;
        _rms.Clear();
    }
}
