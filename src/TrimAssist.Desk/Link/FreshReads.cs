using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>Fresh readings that somebody waits for: asks, asks again, and ends the wait when all have answered or time is up.</summary>
internal sealed class FreshReads(Func<ControlKind, int, double> heardAt, Func<ControlKind, int, bool> ask)
{
    private static readonly double[] AskAgainAfterS = [0.15, 0.35, 0.8, 1.5, 2.3];

    private readonly List<Waiting> _waiting = [];

    /// <summary>Asks for controls and waits for answers that come after now.</summary>
    /// <returns>Whether every control that can be asked answered in time.</returns>
    public Task<bool> ReadAsync(IEnumerable<(ControlKind Kind, int Input)> wanted, double now, double timeoutS)
    {
        var asked = wanted.Where(one => ask(one.Kind, one.Input)).ToList();
        if (asked.Count == 0)
            return Task.FromResult(false);
        var waiting = new Waiting(asked, now, now + timeoutS);
        _waiting.Add(waiting);
        return waiting.Done.Task;
    }

    /// <summary>Ends what is answered, asks again, and ends what has waited too long.</summary>
    public void Tick(double now)
    {
        for (var index = _waiting.Count - 1; index >= 0; index--)
        {
            var waiting = _waiting[index];
            waiting.Open.RemoveAll(one => heardAt(one.Kind, one.Input) >= waiting.Since);
            if (waiting.Open.Count == 0 || now >= waiting.Deadline)
            {
                _waiting.RemoveAt(index);
                waiting.Done.TrySetResult(waiting.Open.Count == 0);
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
        _waiting.ForEach(waiting => waiting.Done.TrySetResult(false));
        _waiting.Clear();
    }

    private sealed class Waiting(List<(ControlKind Kind, int Input)> open, double since, double deadline)
    {
        public List<(ControlKind Kind, int Input)> Open { get; } = open;

        public double Since { get; } = since;

        public double Deadline { get; } = deadline;

        public int Asked { get; set; }

        public TaskCompletionSource<bool> Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
