using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Localization;
using TrimAssist.Service.Pages.Pairing;
using TrimAssist.Service.Pages.Picture;
using TrimAssist.Service.Pages.Wording;

namespace TrimAssist.Service.Pages;

/// <summary>Puts the page into the service.</summary>
internal static class PageHosting
{
    // Beside the page and not of it: it is open to whoever has no credential yet.
    private const string Pairing = "/pair";

    /// <summary>Adds what the page needs.</summary>
    public static void AddPage(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents();
        // The keys protect what a page carries for the one process that made it, which no other goes on with: kept in memory, nothing written outside of the data folder.
        services.AddDataProtection().UseEphemeralDataProtectionProvider();
        services.AddSingleton<DeskPicture>();
    }

    /// <summary>Serves the page and its few static files: whatever the service itself has no address for. It is put together right after the start, so that listening never waits for it.</summary>
    public static void MapPage(this WebApplication app)
    {
        app.UseWhen(context => context.Request.Path == Pairing, pairing => pairing.UseRequestLocalization(Localize));
        app.MapGet(Pairing, (string? refused) => Form(refused)).ExcludeFromDescription();
        var page = new Lazy<RequestDelegate>(() => Build(app.Services));
        app.Use(next => context => context.GetEndpoint() is null ? page.Value(context) : next(context));
        app.Lifetime.ApplicationStarted.Register(() => _ = Task.Run(() => AskForNothingAsync(app.Services, page)));
    }

    private static RazorComponentResult Form(string? refused) =>
        new(typeof(PairForm), new Dictionary<string, object?>(StringComparer.Ordinal) { [nameof(PairForm.Refused)] = refused });

    // Before a browser asks: the first request of all sorts the addresses and looks the page's hub through.
    private static async Task AskForNothingAsync(IServiceProvider services, Lazy<RequestDelegate> page)
    {
        await using var scope = services.CreateAsyncScope();
        var context = new DefaultHttpContext { RequestServices = scope.ServiceProvider };
        context.Request.Path = "/nothing-here";
        await page.Value(context);
    }

    private static RequestDelegate Build(IServiceProvider services)
    {
        var app = new ApplicationBuilder(services);
        app.UseRequestLocalization(Localize);
        app.UseRouting();
        app.UseAntiforgery();
        app.UseEndpoints(endpoints =>
        {
            endpoints.MapStaticAssets();
            // The service's own policy forbids framing altogether; the framework's would stand beside it as a second, milder one.
            endpoints.MapRazorComponents<App>().AddInteractiveServerRenderMode(static options => options.ContentSecurityFrameAncestorsPolicy = null);
        });
        return app.Build();
    }

    // The words follow whoever looks; figures are written alike in every language, with a point, as desks write them.
    private static void Localize(RequestLocalizationOptions options)
    {
        options.AddSupportedUICultures([.. Words.Languages.Select(one => one.Name)]).SetDefaultCulture("en");
        options.RequestCultureProviders = [new CookieRequestCultureProvider(), new CustomRequestCultureProvider(ByBrowser)];
    }

    // The first of the browser's languages that the page speaks, whatever the country behind it.
    private static Task<ProviderCultureResult?> ByBrowser(HttpContext context)
    {
        var asked = context.Request.GetTypedHeaders().AcceptLanguage.OrderByDescending(one => one.Quality ?? 1).Select(one => one.Value.ToString().Split('-')[0]);
        var spoken = asked.FirstOrDefault(one => Words.Languages.Any(language => string.Equals(language.Name, one, StringComparison.OrdinalIgnoreCase)));
        return Task.FromResult(spoken is null ? null : new ProviderCultureResult("en", spoken));
    }
}
