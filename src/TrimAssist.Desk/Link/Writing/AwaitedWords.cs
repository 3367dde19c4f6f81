using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Writing;

/// <summary>The changes under way: wakes the writer when the desk speaks, and asks the desk where it does not.</summary>
internal sealed class AwaitedWords(Func<ControlKind, int, bool> ask)
{
    // After the send: without trust in echoes at once, with it after a moment; seldom enough that a desk cannot be flooded.
    private static readonly double[] AskAfterS = [0.05, 0.3, 0.6, 1, 1.5, 2, 2.5];
    private const double EchoGraceS = 0.25;
    private readonly List<AwaitedWord> _open = [];

    /// <summary>Whether a change of one of these inputs is under way already.</summary>
    public bool IsUnderWay(ControlKind kind, IReadOnlyList<int> inputs) => _open.Exists(word => word.Control.Kind == kind && word.Inputs.Any(inputs.Contains));

    /// <summary>Whether this input's control is being changed by us, so that its moving is no news.</summary>
    public bool IsUnderWay(ControlKind kind, int input) => _open.Exists(word => word.Control.Kind == kind && word.Inputs.Contains(input));

    /// <summary>Begins to wait for the desk's word on a change that is about to be sent.</summary>
    public AwaitedWord Begin(ControlProfile control, IReadOnlyList<int> inputs, double sentAt)
    {
        var word = new AwaitedWord(control, inputs, sentAt);
        _open.Add(word);
        return word;
    }

    /// <summary>Nobody waits any more.</summary>
    public void End(AwaitedWord word) => _open.Remove(word);

    /// <summary>The desk told a control's value.</summary>
    public void Heard(ControlKind kind, int input)
    {
        foreach (var word in _open)
        {
            if (word.Control.Kind != kind || !word.Inputs.Contains(input))
                continue;
            if (word.Counts)
                word.Heard.Add(input);
            word.Wake();
        }
    }

    /// <summary>Asks where it is time, and wakes whoever has waited long enough.</summary>
    public void Tick(double now)
    {
        foreach (var word in _open)
        {
            if (word.Asked < AskAfterS.Length && now - word.SentAt >= AskAfterS[word.Asked])
                AskAgain(word, now);
            if (now >= word.Until)
                word.Wake();
        }
    }

    /// <summary>Wakes everybody: the loop ends.</summary>
    public void WakeAll() => _open.ForEach(word => word.Wake());

    private void AskAgain(AwaitedWord word, double now)
    {
        word.Asked++;
        if (word.Control.Verify == VerifyBy.Echo && now - word.SentAt < EchoGraceS)
            return;
        word.Counts = true;
        foreach (var input in word.Inputs)
            ask(word.Control.Kind, input);
    }
}
