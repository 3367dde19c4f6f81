using System.Net;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Security;

/// <summary>
/// Finds out who asks. Over a loopback address that is whoever sits at this machine; over any other address, loopback callers
/// included, only a credential counts. What decides is the address that the service was told to listen on, and a request
/// that says it was forwarded comes from elsewhere: a proxy on the same machine does not turn the world into a local caller.
/// </summary>
internal sealed class AccessGuard(RequestDelegate next, IReadOnlyList<Uri> urls, IReadOnlyList<string> desks, CredentialStore credentials)
{
    /// <summary>The cookie that a browser keeps its token in.</summary>
    public const string Cookie = "trimassist";

    // RFC 7239 and 9110, and what proxies say besides: common practice.
    private static readonly string[] ForwardingHeaders = ["Forwarded", "Via", "X-Forwarded", "X-Real-IP", "X-Client-IP", "Client-IP", "True-Client-IP"];

    private readonly bool _allLoopback = urls.All(url => IsLoopback(url.Host));
    private readonly HashSet<int> _loopbackPorts = [.. urls.Where(url => IsLoopback(url.Host)).Select(url => url.Port)];
    private readonly string? _onlyDesk = desks is [var only] ? only : null;
    private readonly HashSet<int> _openPorts = [.. urls.Where(url => !IsLoopback(url.Host)).Select(url => url.Port)];

    public async Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        var isLocal = IsLocal(context);
        var credential = isLocal ? null : CredentialOf(request);
        var caller = isLocal ? Caller.Local : credential is not null ? new Caller(credential.Name, credential.Role, credential.Inputs, credential.Id, credential.Desk ?? _onlyDesk) : null;
        if (caller is null && !AccessRules.IsOpenToAll(request.Path))
        {
            await Problems.Make(
                StatusCodes.Status401Unauthorized, "credential-needed", "Pair first: /pair takes a code from the engineer. Without one this address serves only health and pairing.").ExecuteAsync(context);
            return;
        }

        if (caller is not null && !AccessRules.Allow(caller, request.Method, request.Path))
        {
            await Problems.NotAllowed("Your credential does not allow this.").ExecuteAsync(context);
            return;
        }

        context.Features.Set(caller);
        if (caller is not null)
            context.Features.Get<ConnectionSeat>()?.Prove(caller.Credential);
        // A stream or a page ends with the credential that it was opened by. Taking one back is answered even to its owner.
        using var cut = credential is not null && !HttpMethods.IsDelete(request.Method)
            ? credentials.Revoked(credential).UnsafeRegister(static asked => ((HttpContext)asked!).Abort(), context)
            : default;
        await next(context);
    }

    /// <summary>Whether a host name or address means this machine and nothing else.</summary>
    public static bool IsLoopback(string host) =>
        string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));

    // A port that the system chose is not in the lists: then all addresses must be loopback.
    private bool IsLocal(HttpContext context)
    {
        var port = context.Connection.LocalPort;
        // The web server can be told of addresses that this service was not: what counts is where the request really came in.
        return context.Connection.LocalIpAddress is { } reached && IPAddress.IsLoopback(reached.IsIPv4MappedToIPv6 ? reached.MapToIPv4() : reached)
            && (_allLoopback || (_loopbackPorts.Contains(port) && !_openPorts.Contains(port))) && !context.Request.Headers.Keys.Any(IsForwarding);
    }

    private static bool IsForwarding(string header) => header.StartsWith("X-Forwarded-", StringComparison.OrdinalIgnoreCase)
        || ForwardingHeaders.Contains(header, StringComparer.OrdinalIgnoreCase);

    private Credential? CredentialOf(HttpRequest request)
    {
        var header = request.Headers.Authorization.ToString();
        var token = header.StartsWith("Bearer ", StringComparison.OrdinalIgnoreCase) ? header[7..].Trim() : request.Cookies[Cookie];
        return token is not null ? credentials.Find(token) : null;
    }
}
