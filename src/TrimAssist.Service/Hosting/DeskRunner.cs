using TrimAssist.Service.Acts;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Hosting;

/// <summary>Starts the desks before the page is served, and stops them after it.</summary>
/// <param name="desks">The desks.</param>
/// <param name="acts">The running orders, by the desk's id.</param>
internal sealed class DeskRunner(DeskHosts desks, IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> acts) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            desk.Start(acts.GetValueOrDefault(desk.Description.Id, []));
        return Task.CompletedTask;
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            await desk.DisposeAsync();
    }
}
