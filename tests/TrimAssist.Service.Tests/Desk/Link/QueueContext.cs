using System.Collections.Concurrent;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Where work that a test began as the desk's loop does goes on: on the test's own thread, when it lets it.</summary>
internal sealed class QueueContext : SynchronizationContext
{
    private readonly ConcurrentQueue<Action> _posted = new();

    public override void Post(SendOrPostCallback d, object? state) => _posted.Enqueue(() => d(state));

    /// <summary>Starts work whose awaits go on in <see cref="RunAll"/>.</summary>
    public T Begin<T>(Func<T> work)
    {
        var before = Current;
        SetSynchronizationContext(this);
        try
        {
            return work();
        }
        finally
        {
            SetSynchronizationContext(before);
        }
    }

    /// <summary>Goes on with everything that can.</summary>
    public void RunAll()
    {
        while (_posted.TryDequeue(out var work))
        {
            Begin(() =>
            {
                work();
                return true;
            });
        }
    }
}
