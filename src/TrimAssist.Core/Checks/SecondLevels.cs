using TrimAssist.Core.Listening.Levels;

namespace TrimAssist.Core.Checks;

/// <summary>The highest level of each of the last sixty seconds of one input, and what they say of its rest. Allocates nothing after its birth.</summary>
internal sealed class SecondLevels
{
    private const int WindowS = 60;

    /// <summary>Fewer seconds say nothing of the rest.</summary>
    private const int LearnedFromS = 10;

    /// <summary>So far over its rest an input sounds: as for what a check counts as playing.</summary>
    private const double OverRestDb = 10;

    private readonly double[] _seconds = new double[WindowS];
    private int _count;
    private double _now = double.NaN;

    /// <summary>Takes in one frame's level; what is no number says nothing.</summary>
    public void Hear(double levelDbfs)
    {
        if (!double.IsNaN(levelDbfs) && !(levelDbfs <= _now))
            _now = levelDbfs;
    }

    /// <summary>Ends the second.</summary>
    /// <param name="learn">Whether it may count as rest.</param>
    /// <returns>Whether the input sounded in it; <see langword="null"/> where nothing was heard.</returns>
    public bool? End(bool learn)
    {
        var level = _now;
        _now = double.NaN;
        if (double.IsNaN(level))
            return null;
        var sounds = level > Threshold();
        if (learn)
            _seconds[_count++ % WindowS] = level;
        return sounds;
    }

    /// <summary>The gain has changed: what was heard before is read as it would be now.</summary>
    public void Refer(double byDb)
    {
        for (var i = 0; i < _seconds.Length; i++)
            _seconds[i] += byDb;
    }

    /// <summary>What was heard before says nothing any more.</summary>
    public void Forget() => (_count, _now) = (0, double.NaN);

    // Until the rest is known only what no working input's noise reaches is sound.
    private double Threshold()
    {
        if (_count < LearnedFromS)
            return Playing.HighestRestDbfs;
        var rest = double.PositiveInfinity;
        for (var i = 0; i < Math.Min(_count, WindowS); i++)
            rest = Math.Min(rest, _seconds[i]);
        return Math.Max(Math.Min(rest + OverRestDb, Playing.HighestRestDbfs), Check.QuietestPlayingDbfs);
    }
}
