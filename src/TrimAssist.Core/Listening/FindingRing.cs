namespace TrimAssist.Core.Listening;

/// <summary>Where listeners put what they find until somebody takes it: a ring of fixed size, so that finding allocates nothing.</summary>
public sealed class FindingRing
{
    /// <summary>How many findings may wait; with one more the oldest is lost and counted.</summary>
    public const int Room = 256;

    private readonly Finding[] _ring = new Finding[Room];
    private int _first;
    private int _count;

    /// <summary>Findings lost because nobody took them.</summary>
    public long Lost { get; private set; }

    /// <summary>Puts a finding in.</summary>
    public void Add(in Finding finding)
    {
        if (_count == Room)
        {
            _first = (_first + 1) % Room;
            _count--;
            Lost++;
        }

        _ring[(_first + _count++) % Room] = finding;
    }

    /// <summary>Takes the oldest finding out.</summary>
    public bool TryTake(out Finding finding)
    {
        finding = _ring[_first];
        if (_count == 0)
            return false;
        _first = (_first + 1) % Room;
        _count--;
        return true;
    }
}
