using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Makes one frame of about 50 ms of several short ones: a level out of 20 ms scatters more and repeats the mains less well, so that what
/// tells a plug from a player shows less. What cannot wait for the pool to fill is judged by what it holds so far.
/// </summary>
internal sealed class FramePool(double frameS)
{
    private const double LongestS = 0.05;

    /// <summary>Frames may be a little off the wanted length.</summary>
    private const double SlackS = 1e-6;

    private readonly int _frames = Frames(frameS);
    private long _group;
    private int _held;
    private double _timeS;
    private float _peak;
    private double _power;
    private int _withRms;

    /// <summary>Length of a pooled frame in seconds.</summary>
    public static double PooledS(double frameS) => Frames(frameS) * frameS;

    private static int Frames(double frameS) => Math.Max(1, (int)((LongestS + SlackS) / frameS));

    /// <summary>Takes one frame; true when a pooled one is complete, or was cut short by a lost frame.</summary>
    public bool Add(in MeterReading reading, out MeterReading pooled)
    {
        pooled = reading;
        if (_frames == 1)
            return true;
        var frame = (long)Math.Round(reading.TimeS / frameS);
        var group = (long)Math.Ceiling((double)frame / _frames);
        var done = _held > 0 && group != _group;
        if (done)
            pooled = Take(reading.Input);
        (_group, _timeS) = (group, reading.TimeS);
        _peak = _held == 0 ? reading.PeakDbfs : Math.Max(_peak, reading.PeakDbfs);
        _held++;
        if (!float.IsNaN(reading.RmsDbfs))
        {
            _power += Math.Pow(10, reading.RmsDbfs / 10);
            _withRms++;
        }

        if (done || frame % _frames != 0)
            return done;
        pooled = Take(reading.Input);
        return true;
    }

    /// <summary>Whether frames are held that wait for more, and the highest peak among them.</summary>
    public bool Waits => _held > 0;

    public float PeakDbfs => _peak;

    /// <summary>Lets go of what is not complete.</summary>
    public void Clear() => (_held, _power, _withRms) = (0, 0, 0);

    private MeterReading Take(int input)
    {
        var rms = _withRms > 0 ? (float)(10 * Math.Log10(_power / _withRms)) : float.NaN;
        var pooled = new MeterReading(input, _timeS, _peak, rms);
        Clear();
        return pooled;
    }
}
