using TrimAssist.Core.Acts;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Hosting;

/// <summary>Starts the desks before the page is served, and stops them after it.</summary>
/// <param name="desks">The desks.</param>
/// <param name="acts">The running order of the first desk.</param>
internal sealed class DeskRunner(DeskHosts desks, IReadOnlyList<Act> acts) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var (index, desk) in desks.All.Index())
            desk.Start(index == 0 ? acts : []);
        return Task.CompletedTask;
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            await desk.DisposeAsync();
    }
}
