using System.Net;

namespace TrimAssist.Service.Security;

/// <summary>
/// Keeps everything but health and the pairing page from whoever comes over an address that is not loopback, as long as
/// there are no credentials. What counts is the address that the service was told to listen on, so a proxy on the same
/// machine does not turn the world into a local caller.
/// </summary>
internal sealed class BindingGuard(RequestDelegate next, IReadOnlyList<Uri> urls)
{
    private readonly HashSet<int> _loopbackPorts = [.. urls.Where(url => IsLoopback(url.Host)).Select(url => url.Port)];
    private readonly HashSet<int> _openPorts = [.. urls.Where(url => !IsLoopback(url.Host)).Select(url => url.Port)];

    public async Task InvokeAsync(HttpContext context)
    {
        var port = context.Connection.LocalPort;
        var trusted = !_openPorts.Contains(port) && (_loopbackPorts.Contains(port) || IsLoopback(context.Connection.LocalIpAddress));
        if (trusted || IsOpenToAll(context.Request.Path))
        {
            await next(context);
            return;
        }

        await Api.Problems.Make(
            StatusCodes.Status401Unauthorized,
            "credential-needed",
            "This address serves only health and pairing until a credential exists. Use the service's own machine.").ExecuteAsync(context);
    }

    /// <summary>Whether a host name or address means this machine and nothing else.</summary>
    public static bool IsLoopback(string host) =>
        string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));

    private static bool IsLoopback(IPAddress? address) =>
        address is not null && IPAddress.IsLoopback(address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address);

    private static bool IsOpenToAll(PathString path) =>
        path.Equals("/api/health", StringComparison.OrdinalIgnoreCase) || path.Equals("/pair", StringComparison.OrdinalIgnoreCase);
}
