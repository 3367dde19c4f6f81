using System.Net;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Security;

/// <summary>
/// Refuses what a foreign page asks for: a Host that is a name which somebody pointed at this machine (DNS rebinding) for
/// everything but health, a foreign Origin for every state change, and whatever a browser says it fetches for another site: that site
/// could not read the answer, but would hold a place. Live connections of the page count as state changes.
/// </summary>
internal sealed class SameOriginGuard(RequestDelegate next, IReadOnlyList<Uri> urls)
{
    private readonly HashSet<string> _hosts = new(
        urls.Where(url => !LocalDoor.IsLoopback(url.Host)).Select(url => url.Host), StringComparer.OrdinalIgnoreCase);

    public async Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        var changes = !(HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method) || HttpMethods.IsOptions(request.Method))
            || context.WebSockets.IsWebSocketRequest;
        if (AccessRules.IsOpenToAll(request.Path) && !changes)
        {
            await next(context);
            return;
        }

        if (IsOwnHost(context) && !IsForAnotherSite(request) && (!changes || IsOwnOrigin(request)))
        {
            await next(context);
            return;
        }

        await Problems.Make(
            StatusCodes.Status403Forbidden, "not-allowed", "A change must come from this service's own page or a local program.").ExecuteAsync(context);
    }

    // An address cannot be pointed elsewhere, a name can: the address that the caller really reached is its own proof.
    private bool IsOwnHost(HttpContext context)
    {
        var host = context.Request.Host;
        return host.HasValue && (LocalDoor.IsLoopback(host.Host) || _hosts.Contains(host.Host)
            || (IPAddress.TryParse(host.Host.Trim('[', ']'), out var address) && address.Equals(Plain(context.Connection.LocalIpAddress))));
    }

    // Fetch Metadata (W3C): a link that somebody follows from elsewhere is a navigation, and welcome.
    private static bool IsForAnotherSite(HttpRequest request) =>
        request.Headers["Sec-Fetch-Site"].ToString() is "cross-site" or "same-site" && request.Headers["Sec-Fetch-Mode"].ToString() is not "navigate";

    private static IPAddress? Plain(IPAddress? address) => address is { IsIPv4MappedToIPv6: true } ? address.MapToIPv4() : address;

    // Programs send no Origin; a browser always does on a change.
    private static bool IsOwnOrigin(HttpRequest request)
    {
        var origin = request.Headers.Origin.ToString();
        return origin.Length == 0 || (Uri.TryCreate(origin, UriKind.Absolute, out var uri)
            && string.Equals(uri.Authority, request.Host.Value, StringComparison.OrdinalIgnoreCase));
    }
}
