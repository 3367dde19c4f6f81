using TrimAssist.Service.Pages.Parts;

namespace TrimAssist.Service.Pages;

/// <summary>Puts the page into the service.</summary>
internal static class PageHosting
{
    /// <summary>Adds what the page needs.</summary>
    public static void AddPage(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddScoped<DeskPicture>();
    }

    /// <summary>Serves the page and its few static files.</summary>
    public static void MapPage(this WebApplication app)
    {
        app.UseAntiforgery();
        app.MapStaticAssets();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }
}
