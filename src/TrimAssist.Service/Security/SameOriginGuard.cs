namespace TrimAssist.Service.Security;

/// <summary>
/// Refuses a state change that a foreign page asks for: its Origin is another, or its Host is a name that somebody pointed
/// at this machine (DNS rebinding). Live connections of the page count as state changes.
/// </summary>
internal sealed class SameOriginGuard(RequestDelegate next, IReadOnlyList<Uri> urls)
{
    private readonly HashSet<string> _hosts = new(
        urls.Where(url => !BindingGuard.IsLoopback(url.Host)).Select(url => url.Host), StringComparer.OrdinalIgnoreCase);

    public async Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        var changes = !(HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method) || HttpMethods.IsOptions(request.Method))
            || context.WebSockets.IsWebSocketRequest;
        if (!changes || (IsOwnHost(request.Host) && IsOwnOrigin(request)))
        {
            await next(context);
            return;
        }

        await Api.Problems.Make(
            StatusCodes.Status403Forbidden, "not-allowed", "A change must come from this service's own page or a local program.").ExecuteAsync(context);
    }

    private bool IsOwnHost(HostString host) => host.HasValue && (BindingGuard.IsLoopback(host.Host) || _hosts.Contains(host.Host));

    // Programs send no Origin; a browser always does on a change.
    private static bool IsOwnOrigin(HttpRequest request)
    {
        var origin = request.Headers.Origin.ToString();
        return origin.Length == 0 || (Uri.TryCreate(origin, UriKind.Absolute, out var uri)
            && string.Equals(uri.Authority, request.Host.Value, StringComparison.OrdinalIgnoreCase));
    }
}
