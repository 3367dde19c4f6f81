using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Hosting;

/// <summary>Starts the desks before the page is served, and stops them after it.</summary>
internal sealed class DeskRunner(DeskHosts desks) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            desk.Start();
        return Task.CompletedTask;
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            await desk.DisposeAsync();
    }
}
