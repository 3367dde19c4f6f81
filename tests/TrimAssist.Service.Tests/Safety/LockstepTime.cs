using System.Collections.Concurrent;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Loops;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>
/// A desk and the services before it on one clock, which goes on as the real one does but stands while any of them is behind: a busy
/// machine makes nobody late.
/// </summary>
internal sealed class LockstepTime : IAsyncDisposable
{
    /// <summary>The most that the clock goes on at once: what is said before a step is heard by its end.</summary>
    public static readonly TimeSpan LongestStep = TimeSpan.FromMilliseconds(20);

    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(5);

    private readonly SteppedTime _clock = new(TimeProvider.System.GetUtcNow());
    private readonly ConcurrentDictionary<DeskHost, bool> _hosts = [];
    private readonly CancellationTokenSource _off = new();
    private readonly Task _running;

    public LockstepTime()
    {
        Desk = new UnrulyDesk(_clock);
        _running = RunAsync(_off.Token);
    }

    public TimeProvider Clock => _clock;

    public UnrulyDesk Desk { get; }

    /// <summary>Has the clock wait for a service too.</summary>
    public void Join(DeskHost host) => _hosts[host] = true;

    /// <summary>No longer waits for a service, which is about to end.</summary>
    public void Leave(DeskHost host) => _hosts.TryRemove(host, out _);

    public async ValueTask DisposeAsync()
    {
        await _off.CancelAsync();
        await _running;
        _off.Dispose();
        await Desk.DisposeAsync();
    }

    private async Task RunAsync(CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(Tick, TimeProvider.System);
        var last = TimeProvider.System.GetTimestamp();
        try
        {
            while (await timer.WaitForNextTickAsync(cancellationToken))
            {
                // What is over is not made up for: that is how the clock stands.
                var now = TimeProvider.System.GetTimestamp();
                var passed = TimeProvider.System.GetElapsedTime(last, now);
                last = now;
                _clock.Advance(passed < LongestStep ? passed : LongestStep);
                Desk.Attend();
                Loopback.Settle();
                foreach (var host in _hosts.Keys)
                    await HeardAsync(host);
                Loopback.Settle();
            }
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            // The clock is stopped.
        }
    }

    // Twice, because the loop may have been between its ears and its mailbox the first time.
    private static async Task HeardAsync(DeskHost host)
    {
        try
        {
            await host.AskAsync(static _ => true);
            await host.AskAsync(static _ => true);
        }
        catch (OperationCanceledException)
        {
            // It has ended meanwhile.
        }
    }
}
