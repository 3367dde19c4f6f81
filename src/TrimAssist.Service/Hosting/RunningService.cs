using System.Net.Sockets;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Replay;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Hosting;

/// <summary>The service, running. What cannot be used or had is said in one sentence before anything is served.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly SqliteJournal _journal;
    private readonly LinkRecorder? _recorder;

    private RunningService(WebApplication app, SqliteJournal journal, LinkRecorder? recorder)
    {
        _app = app;
        _journal = journal;
        _recorder = recorder;
    }

    /// <summary>Where the page really is, ports filled in.</summary>
    public IReadOnlyList<string> Urls => [.. _app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses];

    /// <summary>The parts, for those who run inside the same process: the demo's summary and tests.</summary>
    public IServiceProvider Services => _app.Services;

    /// <summary>Reads the profiles, opens the journal, starts everything.</summary>
    /// <exception cref="UsageException">A profile cannot be used.</exception>
    /// <exception cref="WorkFailedException">A port or the journal cannot be had.</exception>
    public static Task<RunningService> StartAsync(ServeOptions options, CancellationToken cancellationToken) =>
        StartAsync(options, ProfileFiles.Read(options.Profiles), cancellationToken);

    /// <summary>Starts everything with profiles already read.</summary>
    public static async Task<RunningService> StartAsync(
        ServeOptions options, IReadOnlyList<DeskProfile> profiles, CancellationToken cancellationToken)
    {
        var acts = new InputListFiles([.. profiles.Select(profile => profile.Description)], Console.Error).Read(options.InputLists);
        var journal = OpenJournal(options);
        if (journal.Trouble is { } trouble)
            await Console.Error.WriteLineAsync($"{trouble} Meters and warnings go on; nothing can be confirmed until it can be written.");
        WebApplication? app = null;
        LinkRecorder? recorder = null;
        try
        {
            recorder = options.RecordFile is { } file ? LinkRecorder.Create(file, profiles, options.Time, Console.Error.WriteLine) : null;
            app = ServiceHost.Build(options, profiles, acts, journal, journal, recorder);
            await app.StartAsync(cancellationToken);
            await TellAboutAddressesAsync(app.Services);
            return new RunningService(app, journal, recorder);
        }
        catch (Exception failed)
        {
            if (app is not null)
                await app.DisposeAsync();
            await journal.DisposeAsync();
            if (recorder is not null)
                await recorder.DisposeAsync();
            if (failed is DeskConnectException or JournalOpenException or IOException or SocketException)
                throw new WorkFailedException(failed.Message);
            throw;
        }
    }

    /// <summary>Waits until the service is told to stop.</summary>
    public Task WaitAsync(CancellationToken cancellationToken) => _app.WaitForShutdownAsync(cancellationToken);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
        await _journal.DisposeAsync();
        if (_recorder is not null)
            await _recorder.DisposeAsync();
    }

    // Whoever can see the console is the operator: the first credential begins here.
    private static async Task TellAboutAddressesAsync(IServiceProvider services)
    {
        var exposure = services.GetRequiredService<Exposure>();
        foreach (var warning in exposure.Warnings)
            await Console.Error.WriteLineAsync($"Warning: {warning.Text}");
        if (exposure.IsOpen && !services.GetRequiredService<CredentialStore>().All.Any(one => one.Role == Role.Engineer))
        {
            var code = services.GetRequiredService<PairingDesk>().Open("engineer", Role.Engineer, null);
            await Console.Error.WriteLineAsync($"To pair the engineer's device, open /pair there within {PairingDesk.Life.TotalMinutes:0} minutes and type {code.Code}.");
        }
    }

    private static SqliteJournal OpenJournal(ServeOptions options)
    {
        try
        {
            return SqliteJournal.Open(options.DataFolder);
        }
        catch (JournalOpenException failed)
        {
            throw new WorkFailedException(failed.Message);
        }
    }
}
