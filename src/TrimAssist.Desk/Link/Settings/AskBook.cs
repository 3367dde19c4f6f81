using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Plans the questions to the desk: everything at the start and after a restart, again where no answer came, and round and round slowly.</summary>
internal sealed class AskBook
{
    // A desk's receive buffer must not overflow from us: no more than this many questions at once.
    private const int Batch = 24;
    private const double RoundS = 5;
    private const double FastestPerS = 50;
    private static readonly double[] RetryS = [0.3, 1, 3];
    private readonly (ControlKind Kind, int Input)[] _all;
    private readonly Queue<(ControlKind Kind, int Input, int Attempt, double At)> _due = new();
    private readonly Func<ControlKind, int, double> _heardAt;
    private int _next;
    private double _nextAt;

    public AskBook(DeskProfile profile, Func<ControlKind, int, double> heardAt)
    {
        _heardAt = heardAt;

        // The source comes first: what is addressed by socket cannot be asked before.
        _all = [.. profile.Controls
            .Where(c => c.Query is not null)
            .OrderByDescending(c => c.Kind == ControlKind.Source)
            .SelectMany(c => Enumerable.Range(1, profile.Inputs).Select(i => (c.Kind, i)))];
    }

    /// <summary>Plans to ask everything now.</summary>
    public void AskAll(double now)
    {
        _due.Clear();
        foreach (var (kind, input) in _all)
            _due.Enqueue((kind, input, 0, now));
        (_next, _nextAt) = (0, now + RoundS);
    }

    /// <summary>Plans to ask one input's controls again: it hangs on another socket now.</summary>
    public void AskInput(int input, double now)
    {
        foreach (var (kind, which) in _all)
        {
            if (which == input && kind != ControlKind.Source)
                _due.Enqueue((kind, input, 0, now));
        }
    }

    /// <summary>Asks what is due.</summary>
    /// <param name="now">The session's time.</param>
    /// <param name="live">Whether meters arrive; only then the slow round goes on.</param>
    /// <param name="ask">Sends one question.</param>
    public void Tick(double now, bool live, Action<ControlKind, int> ask)
    {
        var left = Batch;
        for (var i = _due.Count; i > 0 && left > 0; i--)
        {
            var (kind, input, attempt, at) = _due.Dequeue();
            if (at > now)
            {
                _due.Enqueue((kind, input, attempt, at));
                continue;
            }

            if (attempt > 0 && _heardAt(kind, input) >= at - RetryS[attempt - 1])
                continue;
            ask(kind, input);
            left--;
            if (attempt < RetryS.Length)
                _due.Enqueue((kind, input, attempt + 1, now + RetryS[attempt]));
        }

        if (live && _due.Count == 0 && _all.Length > 0 && now >= _nextAt)
            AskNext(now, ask);
    }

    private void AskNext(double now, Action<ControlKind, int> ask)
    {
        var (kind, input) = _all[_next];
        ask(kind, input);
        _next = (_next + 1) % _all.Length;
        _nextAt = Math.Max(_nextAt, now - RoundS) + Math.Max(RoundS / _all.Length, 1 / FastestPerS);
    }
}
