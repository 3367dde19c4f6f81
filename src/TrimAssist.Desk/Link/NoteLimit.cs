namespace TrimAssist.Desk.Link;

/// <summary>Lets one note of a kind through now and then, with the number of those it stands for.</summary>
internal sealed class NoteLimit
{
    private const double EveryS = 10;
    private double _nextAt;
    private long _held;

    /// <summary>Counts one; the number since the last note when it is time for another, else 0.</summary>
    public long Count(double now)
    {
        _held++;
        if (now < _nextAt)
            return 0;
        var since = _held;
        (_held, _nextAt) = (0, now + EveryS);
        return since;
    }
}
