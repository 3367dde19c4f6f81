using TrimAssist.Service.Acts;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Hosting;

/// <summary>Starts the desks before the page is served, and stops them after it.</summary>
/// <param name="desks">The desks.</param>
/// <param name="acts">The running orders, by the desk's id.</param>
/// <param name="earlier">What earlier runs wrote: once the desks have begun it is read.</param>
/// <param name="log">Told what of it could not be read.</param>
internal sealed partial class DeskRunner(DeskHosts desks, IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> acts, LineReader earlier, ILogger<DeskRunner> log) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            desk.Start(acts.GetValueOrDefault(desk.Description.Id, []));
        if (earlier.Complaint is { } complaint)
            LogUnread(complaint);
        return Task.CompletedTask;
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        foreach (var desk in desks.All)
            await desk.DisposeAsync();
    }

    [LoggerMessage(EventId = 2002, Level = LogLevel.Warning, Message = "{Complaint}. \"trimassist journal check\" names them all")]
    private partial void LogUnread(string complaint);
}
