using System.Globalization;
using Microsoft.AspNetCore.Server.Kestrel.Transport.Sockets;
using Serilog;
using Serilog.Events;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Journal;
using TrimAssist.Desk.Profiles;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Api;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Events;
using TrimAssist.Service.Failures;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Metrics;
using TrimAssist.Service.Outbound;
using TrimAssist.Service.Outbound.Mqtt;
using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.Service.Pages;
using TrimAssist.Service.Replay;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Service.Hosting;

/// <summary>The composition root: every part, put together in one readable place.</summary>
internal static class ServiceHost
{
    /// <summary>The largest request body that is read.</summary>
    private const int MaxBodyBytes = 64 * 1024;

    /// <summary>How many pages may be open at once.</summary>
    private const int MaxPages = 64;

    /// <summary>How many requests one connection may have under way.</summary>
    private const int MaxStreams = 16;

    /// <summary>Puts the service together. Nothing runs yet.</summary>
    /// <param name="options">What the user asked for.</param>
    /// <param name="profiles">The desks.</param>
    /// <param name="acts">The running orders, by the desk's id.</param>
    /// <param name="journal">The journal, open.</param>
    /// <param name="earlier">What earlier runs wrote.</param>
    /// <param name="recorder">Records every desk's link; <see langword="null"/> for none.</param>
    public static WebApplication Build(ServeOptions options, IReadOnlyList<DeskProfile> profiles, IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> acts, IJournal journal, IJournalReader earlier, LinkRecorder? recorder = null)
    {
        var urls = ListenUrls.Read(options.Urls);
        // Nothing but what is named here: no settings file beside the program, no variable of the web server's, no watched folder can change
        // how the service runs, and what is not loaded need not be waited for.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(ServiceHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.Services.AddRoutingCore();
        builder.WebHost.UseKestrelCore().UseKestrelHttpsConfiguration().UseSockets(SendAtOnce).UseUrls(options.Urls).ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = MaxBodyBytes;
            kestrel.Limits.MaxConcurrentConnections = ConnectionBounds.Most;
            kestrel.Limits.MaxConcurrentUpgradedConnections = MaxPages;
            kestrel.Limits.Http2.MaxStreamsPerConnection = MaxStreams;
            var bounds = new ConnectionBounds();
            kestrel.ConfigureEndpointDefaults(listen => listen.Use(next => connection => bounds.AdmitAsync(connection, next)));
            if (options.Certificate is { } certificate)
                kestrel.ConfigureHttpsDefaults(https => https.ServerCertificate = certificate);
        });
        // The page's files also when the program is started straight from its build folder.
        builder.WebHost.UseStaticWebAssets();
        // Tells the system's service manager when it is ready and stops when told; without one, these change nothing.
        builder.Host.UseSystemd().UseWindowsService(windows => windows.ServiceName = "TrimAssist");
        AddLogging(builder, options.LogFile);
        AddServices(builder.Services, options, profiles, acts, journal, earlier, recorder);
        var app = builder.Build();
        MapAll(app, urls, [.. profiles.Select(profile => profile.Id)]);
        return app;
    }

    /// <summary>
    /// Lets whoever writes a response hand it to the system at once, and whoever received a request answer it: a warning does not wait for
    /// another thread to be woken. The web server calls this unsafe because a handler may then hold up the thread that watches the sockets. With
    /// the runtime's sockets it cannot: what they received is taken up by threads of the pool, and writing to them never waits for a reader.
    /// </summary>
    internal static void SendAtOnce(SocketTransportOptions sockets) => sockets.UnsafePreferInlineScheduling = true;

    private static void AddLogging(WebApplicationBuilder builder, string? file) => builder.Host.UseSerilog((_, log) =>
    {
        log.MinimumLevel.Information()
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            .MinimumLevel.Override("System", LogEventLevel.Warning)
            // A line for every connection that is turned away would let a flood of them fill the disk.
            .MinimumLevel.Override("Microsoft.AspNetCore.Server.Kestrel.Connections", LogEventLevel.Error)
            // Why the service cannot start is told in one sentence by whoever started it.
            .Filter.ByExcluding(entry => entry.MessageTemplate.Text.StartsWith("Hosting failed to start", StringComparison.Ordinal))
            .WriteTo.Console(standardErrorFromLevel: LogEventLevel.Verbose, formatProvider: CultureInfo.InvariantCulture);
        if (file is not null)
            LogFile.Add(log, file);
    });

    private static void AddServices(
        IServiceCollection services, ServeOptions options, IReadOnlyList<DeskProfile> profiles, IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> acts, IJournal journal, IJournalReader earlier, LinkRecorder? recorder)
    {
        services.AddSingleton(options.Time);
        services.AddSingleton(journal);
        services.AddSingleton<EventHub>();
        services.AddSingleton<PictureClock>();
        services.AddSingleton<GateJournal>();
        var lines = new LineReader(earlier);
        services.AddSingleton(lines);
        services.AddSingleton(ShowMemory.Read(lines, options.Time));
        services.AddSingleton(new CredentialStore(options.DataFolder));
        services.AddSingleton<PairingDesk>();
        services.AddSingleton(new Exposure(ListenUrls.Read(options.Urls), Receivers(options)));
        services.AddSingleton<Vitals>();
        services.AddSingleton(provider => new DeskHostServices(
            provider.GetRequiredService<EventHub>(), provider.GetRequiredService<GateJournal>(), provider.GetRequiredService<ShowMemory>(), lines, options.Time, provider.GetRequiredService<PictureClock>(),
            provider.GetRequiredService<ILogger<DeskHost>>(),
            id => recorder?.TapOf(id), options.Replayed, provider.GetRequiredService<Vitals>()));
        services.AddSingleton(provider => new DeskHosts(
            [.. profiles.Select(profile => new DeskHost(profile, AssistOptions.Default with { Rehearsal = options.Room is { } room ? room with { Zone = options.Time.LocalTimeZone } : null }, provider.GetRequiredService<DeskHostServices>()))]));
        services.AddHostedService(provider => new DeskRunner(provider.GetRequiredService<DeskHosts>(), acts, lines, provider.GetRequiredService<ILogger<DeskRunner>>()));
        foreach (var surface in options.Surfaces)
        {
            services.AddSingleton<IHostedService>(provider => new SurfaceRunner(
                surface, provider.GetRequiredService<DeskHosts>(), options.Time, provider.GetRequiredService<Vitals>(), provider.GetRequiredService<ILogger<SurfaceRunner>>()));
        }

        services.AddSingleton(provider => new OutboundRelay(provider.GetRequiredService<EventHub>(), [.. Outlets(options, provider)]));
        services.AddHostedService(provider => provider.GetRequiredService<OutboundRelay>());
        services.AddSingleton<ServiceMetrics>();
        services.AddScrape();
        services.ConfigureHttpJsonOptions(json => ApiJson.Configure(json.SerializerOptions));
        services.AddOpenApi();
        services.AddProblemDetails(problems => problems.CustomizeProblemDetails = context => Problems.Complete(context.ProblemDetails));
        services.AddPage();
    }

    private static IReadOnlyList<Uri> Receivers(ServeOptions options) =>
    [
        .. options.Webhook is { } webhook ? [webhook.Url] : Array.Empty<Uri>(),
        .. options.Mqtt is { } mqtt ? [new Uri(mqtt.ToString())] : Array.Empty<Uri>(),
    ];

    private static IEnumerable<IEventOutlet> Outlets(ServeOptions options, IServiceProvider provider)
    {
        if (options.Webhook is { } webhook)
            yield return new WebhookOutlet(webhook, options.Time, provider.GetRequiredService<ILogger<WebhookOutlet>>());
        if (options.Mqtt is { } mqtt)
            yield return new MqttOutlet(mqtt, options.Time, provider.GetRequiredService<ILogger<MqttOutlet>>());
    }

    private static void MapAll(WebApplication app, IReadOnlyList<Uri> urls, IReadOnlyList<string> desks)
    {
        app.UseExceptionHandler();
        app.UseStatusCodePages();
        app.Use(next => context => SecurityHeaders.SetAsync(context, next));
        app.UseMiddleware<AccessGuard>(urls, desks);
        app.UseMiddleware<SameOriginGuard>(urls);
        app.Use((context, next) => BodySizeGuard.InvokeAsync(context, next, MaxBodyBytes));
        app.Use(next => context => CharsetGuard.InvokeAsync(context, next));
        app.Services.GetRequiredService<ServiceMetrics>();
        var api = app.MapGroup("/api");
        DesksApi.Map(api);
        ChecksApi.Map(api);
        ProposalsApi.Map(api);
        AlarmsApi.Map(api);
        PatchApi.Map(api);
        ActsApi.Map(api);
        ChainsApi.Map(api);
        EventsApi.Map(api);
        PairingApi.Map(app, api);
        app.MapScrape("/metrics");
        app.MapOpenApi("/openapi/{documentName}.json");
        app.MapPage();
    }
}
