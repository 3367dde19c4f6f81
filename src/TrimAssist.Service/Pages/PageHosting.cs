using TrimAssist.Service.Pages.Parts;

namespace TrimAssist.Service.Pages;

/// <summary>Puts the page into the service.</summary>
internal static class PageHosting
{
    /// <summary>Adds what the page needs.</summary>
    public static void AddPage(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddSingleton<DeskPicture>();
    }

    /// <summary>Serves the page and its few static files.</summary>
    public static void MapPage(this WebApplication app)
    {
        // The words follow whoever looks; figures are written alike in every language, with a point, as desks write them.
        app.UseRequestLocalization(options => options.AddSupportedUICultures([.. Words.Languages.Select(one => one.Name)]).SetDefaultCulture("en"));
        app.UseAntiforgery();
        app.MapStaticAssets();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }
}
