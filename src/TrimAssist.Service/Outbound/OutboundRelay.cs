using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound;

/// <summary>Hands every event that must not be missed to each outlet. Meters and leases stay inside: they are true for a moment only.</summary>
/// <param name="hub">Where the events come from.</param>
/// <param name="outlets">Where they go.</param>
internal sealed class OutboundRelay(EventHub hub, IReadOnlyList<IEventOutlet> outlets) : BackgroundService
{
    /// <summary>The outlets.</summary>
    public IReadOnlyList<IEventOutlet> Outlets => outlets;

    protected override Task ExecuteAsync(CancellationToken stoppingToken) => outlets.Count == 0
        ? Task.CompletedTask
        : Task.WhenAll([RelayAsync(stoppingToken), .. outlets.Select(outlet => RunAsync(outlet, stoppingToken))]);

    private async Task RelayAsync(CancellationToken stopping)
    {
        string? last = null;
        while (!stopping.IsCancellationRequested)
        {
            // An outlet takes at once, so this client never falls behind; should it be ended, it goes on where it was.
            using var client = hub.JoinInside(last);
            await foreach (var item in client.ReadAsync(stopping))
            {
                last = item.Id;
                foreach (var outlet in outlets)
                    outlet.Offer(item);
            }
        }
    }

    private static async Task RunAsync(IEventOutlet outlet, CancellationToken stopping)
    {
        try
        {
            await outlet.RunAsync(stopping);
        }
        catch (OperationCanceledException) when (stopping.IsCancellationRequested)
        {
            // Told to stop: what still waits is for nobody any more.
        }
    }
}
