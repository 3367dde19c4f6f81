using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Writing;

/// <summary>One change that was sent and waits for the desk's word on it.</summary>
internal sealed class AwaitedWord(ControlProfile control, IReadOnlyList<int> inputs, double sentAt)
{
    private TaskCompletionSource? _next;

    /// <summary>The control.</summary>
    public ControlProfile Control { get; } = control;

    /// <summary>The inputs that were sent to.</summary>
    public IReadOnlyList<int> Inputs { get; } = inputs;

    /// <summary>When it was sent.</summary>
    public double SentAt { get; } = sentAt;

    /// <summary>How often the desk was asked since.</summary>
    public int Asked { get; set; }

    /// <summary>Whether what the desk says counts: everything after the send, or only answers where the profile does not trust echoes.</summary>
    public bool Counts { get; set; } = control.Verify == VerifyBy.Echo;

    /// <summary>The inputs of which the desk has spoken since.</summary>
    public HashSet<int> Heard { get; } = [];

    /// <summary>When the wait for the next word ends in any case, so that the writer looks at the clock.</summary>
    public double Until { get; private set; }

    /// <summary>Waits for the next word, or until a time.</summary>
    public Task NextAsync(double until)
    {
        Until = until;
        _next = new(TaskCreationOptions.RunContinuationsAsynchronously);
        return _next.Task;
    }

    /// <summary>Ends the present wait.</summary>
    public void Wake() => _next?.TrySetResult();
}
