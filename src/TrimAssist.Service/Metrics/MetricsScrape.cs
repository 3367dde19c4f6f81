using OpenTelemetry;
using OpenTelemetry.Metrics;

namespace TrimAssist.Service.Metrics;

/// <summary>Serves the figures as Prometheus reads them. The reader is made when first asked: every figure is looked up at the scrape, so nothing is missed before.</summary>
internal static class MetricsScrape
{
    /// <summary>Adds the reader.</summary>
    public static void AddScrape(this IServiceCollection services) => services.AddSingleton(
        _ => Sdk.CreateMeterProviderBuilder().AddMeter(ServiceMetrics.MeterName).AddPrometheusExporter().Build());

    /// <summary>Serves the figures at an address.</summary>
    public static void MapScrape(this WebApplication app, string path)
    {
        var scrape = new Lazy<RequestDelegate>(() => ((IApplicationBuilder)app).New()
            .UseOpenTelemetryPrometheusScrapingEndpoint(app.Services.GetRequiredService<MeterProvider>(), _ => true, path: null, configureBranchedPipeline: null, optionsName: null)
            .Build());
        app.MapGet(path, (RequestDelegate)(context => scrape.Value(context)));
    }
}
