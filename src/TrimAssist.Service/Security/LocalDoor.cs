using System.Net;

namespace TrimAssist.Service.Security;

/// <summary>
/// The addresses that only this machine reaches. What decides is the address that the service was told to listen on, and a request that says
/// it was forwarded comes from elsewhere: a proxy on the same machine does not turn the world into a local caller.
/// </summary>
/// <param name="urls">Where the service was told to listen.</param>
internal sealed class LocalDoor(IReadOnlyList<Uri> urls)
{
    // RFC 7239 and 9110, and what proxies say besides: common practice.
    private static readonly string[] ForwardingHeaders = ["Forwarded", "Via", "X-Forwarded", "X-Real-IP", "X-Client-IP", "Client-IP", "True-Client-IP"];

    private readonly bool _allLoopback = urls.All(url => IsLoopback(url.Host));
    private readonly HashSet<int> _loopbackPorts = [.. urls.Where(url => IsLoopback(url.Host)).Select(url => url.Port)];
    private readonly HashSet<int> _openPorts = [.. urls.Where(url => !IsLoopback(url.Host)).Select(url => url.Port)];

    /// <summary>Whether a request came in here. A port that the system chose is not in the lists: then all addresses must be loopback.</summary>
    public bool IsUsedBy(HttpContext context)
    {
        var port = context.Connection.LocalPort;
        // The web server can be told of addresses that this service was not: what counts is where the request really came in.
        return context.Connection.LocalIpAddress is { } reached && IPAddress.IsLoopback(reached.IsIPv4MappedToIPv6 ? reached.MapToIPv4() : reached)
            && (_allLoopback || (_loopbackPorts.Contains(port) && !_openPorts.Contains(port))) && !context.Request.Headers.Keys.Any(IsForwarding);
    }

    /// <summary>Whether a host name or address means this machine and nothing else.</summary>
    public static bool IsLoopback(string host) =>
        string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));

    private static bool IsForwarding(string header) => header.StartsWith("X-Forwarded-", StringComparison.OrdinalIgnoreCase)
        || ForwardingHeaders.Contains(header, StringComparer.OrdinalIgnoreCase);
}
