using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>Fresh readings that somebody waits for: asks, asks again, and ends the wait when all have answered or time is up.</summary>
internal sealed class FreshReads(Func<ControlKind, int, bool> ask)
{
    private static readonly double[] AskAgainAfterS = [0.15, 0.35, 0.8, 1.5, 2.3];

    private readonly List<Waiting> _waiting = [];

    /// <summary>Asks for controls and waits for answers that come after now.</summary>
    /// <returns>Whether every control that can be asked answered in time.</returns>
    public Task<bool> ReadAsync(IEnumerable<(ControlKind Kind, int Input)> wanted, double now, double timeoutS)
    {
        var waiting = new Waiting([.. wanted], now, now + timeoutS);
        _waiting.Add(waiting);
        foreach (var one in waiting.Open.ToArray())
        {
            if (!ask(one.Kind, one.Input))
                waiting.Open.Remove(one);
            else
                waiting.Asks++;
        }

        if (waiting.Asks == 0 && _waiting.Remove(waiting))
            waiting.Done.TrySetResult(false);
        return waiting.Done.Task;
    }

    /// <summary>The desk told a control's value.</summary>
    public void Heard(ControlKind kind, int input)
    {
        for (var index = _waiting.Count - 1; index >= 0; index--)
        {
            _waiting[index].Open.Remove((kind, input));
            if (_waiting[index].Open.Count == 0)
                EndAt(index);
        }
    }

    /// <summary>Asks again, and ends what has waited too long.</summary>
    public void Tick(double now)
    {
        for (var index = _waiting.Count - 1; index >= 0; index--)
        {
            var waiting = _waiting[index];
            if (now >= waiting.Deadline)
            {
                EndAt(index);
            }
            else if (waiting.Asked < AskAgainAfterS.Length && now - waiting.Since >= AskAgainAfterS[waiting.Asked])
            {
                waiting.Asked++;
                foreach (var (kind, input) in waiting.Open)
                    ask(kind, input);
            }
        }
    }

    private void EndAt(int index)
    {
        var waiting = _waiting[index];
        _waiting.RemoveAt(index);
        waiting.Done.TrySetResult(waiting.Open.Count == 0);
    }

    /// <summary>Ends every wait without an answer.</summary>
    public void EndAll()
    {
        _waiting.ForEach(waiting => waiting.Done.TrySetResult(false));
        _waiting.Clear();
    }

    private sealed class Waiting(List<(ControlKind Kind, int Input)> open, double since, double deadline)
    {
        public List<(ControlKind Kind, int Input)> Open { get; } = open;

        public double Since { get; } = since;

        public double Deadline { get; } = deadline;

        /// <summary>Controls that could be asked for at all.</summary>
        public int Asks { get; set; }

        /// <summary>How often they were asked for again.</summary>
        public int Asked { get; set; }

        public TaskCompletionSource<bool> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
