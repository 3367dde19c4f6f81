using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>Fresh readings that somebody waits for: asks, asks again, and ends the wait when all have answered or time is up.</summary>
internal sealed class FreshReads(Func<ControlKind, int, bool> ask)
{
    private static readonly double[] AskAgainAfterS = [0.15, 0.35, 0.8, 1.5, 2.3];

    private readonly List<Waiting> _waiting = [];

    /// <summary>Asks for controls and waits for answers that come after now.</summary>
    public Task<FreshRead> ReadAsync(IEnumerable<(ControlKind Kind, int Input)> wanted, double now, double timeoutS)
    {
        var all = wanted.ToList();
        var asked = all.FindAll(one => ask(one.Kind, one.Input));
        if (asked.Count == 0)
            return Task.FromResult(FreshRead.NotAsked);
        var waiting = new Waiting(asked, asked.Count == all.Count, now, now + timeoutS);
        _waiting.Add(waiting);
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

    /// <summary>Ends every wait without an answer.</summary>
    public void EndAll()
    {
        _waiting.ForEach(waiting => waiting.Done.TrySetResult(FreshRead.Silent));
        _waiting.Clear();
    }

    private void EndAt(int index)
    {
        var waiting = _waiting[index];
        _waiting.RemoveAt(index);
        waiting.Done.TrySetResult(waiting.Open.Count > 0 ? FreshRead.Silent : waiting.Complete ? FreshRead.Answered : FreshRead.NotAsked);
    }

    private sealed class Waiting(List<(ControlKind Kind, int Input)> open, bool complete, double since, double deadline)
    {
        public List<(ControlKind Kind, int Input)> Open { get; } = open;

        /// <summary>Whether all that was wanted could be asked for.</summary>
        public bool Complete { get; } = complete;

        public double Since { get; } = since;

        public double Deadline { get; } = deadline;

        /// <summary>How often they were asked for again.</summary>
        public int Asked { get; set; }

        public TaskCompletionSource<FreshRead> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
