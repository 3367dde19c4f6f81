using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>Waits of the writer for the desk's next word on what was just sent, with questions where no echo came.</summary>
internal sealed class WriteWords(Func<ControlKind, int, bool> ask)
{
    /// <summary>A wait ends after this long at the latest, so that the writer looks at the clock again.</summary>
    private const double LongestS = 0.1;

    /// <summary>When to ask, after the send: where an echo is promised it gets a moment; where not, at once.</summary>
    private static readonly double[] AskAfterS = [0.05, 0.3, 0.6, 1, 1.5, 2, 2.5];

    private const double EchoGraceS = 0.25;

    private readonly List<Waiting> _waiting = [];

    /// <summary>Waits for the next word, or a tenth of a second.</summary>
    public Task NextAsync(ControlProfile control, IReadOnlyList<int> inputs, double sentAt, double now)
    {
        var waiting = new Waiting(control.Kind, inputs, now + LongestS);
        _waiting.Add(waiting);
        var grace = control.Verify == VerifyBy.Echo ? EchoGraceS : 0;
        foreach (var due in AskAfterS.Where(due => due >= grace && now - sentAt >= due && now - sentAt < due + LongestS))
        {
            foreach (var input in inputs)
                ask(control.Kind, input);
            break;
        }

        return waiting.Done.Task;
    }

    /// <summary>The desk told a control's value.</summary>
    public void Heard(ControlKind kind, int input) => End(waiting => waiting.Kind == kind && waiting.Inputs.Contains(input));

    /// <summary>Ends waits that have lasted long enough.</summary>
    public void Tick(double now) => End(waiting => now >= waiting.Until);

    private void End(Predicate<Waiting> ends)
    {
        foreach (var waiting in _waiting.FindAll(ends))
        {
            _waiting.Remove(waiting);
            waiting.Done.TrySetResult();
        }
    }

    private sealed record Waiting(ControlKind Kind, IReadOnlyList<int> Inputs, double Until)
    {
        public TaskCompletionSource Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
