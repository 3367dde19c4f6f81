using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Security;

/// <summary>
/// Finds out who asks, and lets them do what they may. Over a loopback address that is whoever sits at this machine; over any other address,
/// loopback callers included, only a credential counts.
/// </summary>
internal sealed class AccessGuard(RequestDelegate next, IReadOnlyList<Uri> urls, IReadOnlyList<string> desks, CredentialStore credentials)
{
    /// <summary>The cookie that a browser keeps its token in.</summary>
    public const string Cookie = "trimassist";

    private readonly LocalDoor _door = new(urls);
    private readonly string? _onlyDesk = desks is [var only] ? only : null;

    public async Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        var isLocal = _door.IsUsedBy(context);
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

    private Credential? CredentialOf(HttpRequest request)
    {
        var header = request.Headers.Authorization.ToString();
        var token = header.StartsWith("Bearer ", StringComparison.OrdinalIgnoreCase) ? header[7..].Trim() : request.Cookies[Cookie];
        return token is not null ? credentials.Find(token) : null;
    }
}
