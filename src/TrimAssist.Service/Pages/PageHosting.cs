namespace TrimAssist.Service.Pages;

internal static class PageHosting
{
    public static void AddPage(this IServiceCollection services) => services.AddRazorComponents().AddInteractiveServerComponents();

    public static void MapPage(this WebApplication app) => app.UseStaticFiles();
}
