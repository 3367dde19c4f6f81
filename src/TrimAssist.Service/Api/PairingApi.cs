using Microsoft.AspNetCore.Http.HttpResults;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Api;

/// <summary>Pairing: the engineer opens a code, somebody else types it once and has a credential.</summary>
internal static class PairingApi
{
    private const int LongestName = 60;
    private static readonly TimeSpan CookieLife = TimeSpan.FromDays(30);

    public static void Map(WebApplication app, IEndpointRouteBuilder api)
    {
        api.MapPost("/pairing", Open).WithSummary("Opens a pairing code: {\"role\":\"stage\",\"inputs\":[1,2],\"name\":\"monitors\"}. Engineers only.");
        api.MapGet("/credentials", List).WithSummary("Every credential, without its token. Engineers only.");
        api.MapDelete("/credentials/{id:guid}", Revoke).WithSummary("Takes a credential back. Engineers only.");
        app.MapPost("/pair", Pair).DisableAntiforgery().WithSummary("Takes a pairing code, {\"code\":\"…\"} or the form's, and answers the credential's token.");
    }

    internal static Results<Created<PairingReply>, ProblemHttpResult> Open(PairingRequest request, PairingDesk pairing, DeskHosts desks)
    {
        if (request.Role is not { } role)
            return Problems.BadRequest("bad-role", "role is engineer, stage, room or guest.");
        var name = request.Name?.Trim() is { Length: > 0 } given ? given : role.ToString().ToLowerInvariant();
        if (name.Length > LongestName || name.Any(char.IsControl))
            return Problems.BadRequest("bad-name", $"name is one line of at most {LongestName} characters.");
        if (request.Inputs is { Count: > 1024 } || request.Inputs?.Any(input => input < 1) is true)
            return Problems.BadRequest("bad-inputs", "inputs are numbers from 1.");
        if (role == Role.Room && request.Inputs is not { Count: > 0 })
            return Problems.BadRequest("bad-inputs", "A room needs to be told its own inputs.");
        var hasInputs = role is Role.Stage or Role.Room;
        if (hasInputs && (request.Desk is { } desk ? desks.Find(desk) is null : desks.All.Count > 1))
            return Problems.BadRequest("bad-desk", $"desk says which desk the inputs are on: {string.Join(", ", desks.All.Select(one => one.Description.Id))}.");
        var code = pairing.Open(name, role, hasInputs ? request.Inputs : null, hasInputs ? request.Desk : null);
        return TypedResults.Created("/pair", new PairingReply(code.Code, code.Role, code.Name, code.Inputs, code.ExpiresAt, code.Desk));
    }

    internal static Ok<IReadOnlyList<CredentialReply>> List(CredentialStore credentials) => TypedResults.Ok<IReadOnlyList<CredentialReply>>(
        [.. credentials.All.Select(one => new CredentialReply(one.Id, one.Name, one.Role, one.Inputs, one.MadeAt, one.Desk))]);

    internal static Results<NoContent, ProblemHttpResult> Revoke(Guid id, CredentialStore credentials)
    {
        try
        {
            return credentials.Revoke(id) ? TypedResults.NoContent() : Problems.NotFound("credential");
        }
        catch (Exception unwritable) when (unwritable is IOException or UnauthorizedAccessException)
        {
            return Problems.Make(
                StatusCodes.Status503ServiceUnavailable, "credentials-unavailable", "It is cut off now, but that could not be written down: after a restart it is let in again.");
        }
    }

    // Whoever typed it into the form gets the form again, which says why: nobody on a stage reads JSON.
    internal static async Task<Results<Ok<PairedReply>, RedirectHttpResult, ProblemHttpResult>> Pair(
        HttpContext context, PairingDesk pairing, CredentialStore credentials, TimeProvider time)
    {
        var answer = await TakeAsync(context, pairing, credentials, time);
        return answer.Result is ProblemHttpResult refused && context.Request.HasFormContentType
            ? TypedResults.Redirect($"/pair?refused={refused.ProblemDetails.Extensions["code"]}")
            : answer;
    }

    private static async Task<Results<Ok<PairedReply>, RedirectHttpResult, ProblemHttpResult>> TakeAsync(
        HttpContext context, PairingDesk pairing, CredentialStore credentials, TimeProvider time)
    {
        var byForm = context.Request.HasFormContentType;
        var typed = await TypedAsync(context.Request);
        if (string.IsNullOrWhiteSpace(typed))
            return Problems.BadRequest("code-missing", "Say {\"code\":\"…\"}.");
        if (pairing.Take(typed, out var tooMany) is not { } code)
        {
            return tooMany
                ? Problems.Make(StatusCodes.Status429TooManyRequests, "too-many-attempts", "Too many wrong codes. Wait a minute.")
                : Problems.Make(StatusCodes.Status403Forbidden, "wrong-code", "That is no code, or its time is up, or somebody has used it.");
        }

        (Credential Credential, string Token)? pair;
        try
        {
            pair = credentials.Make(code.Name, code.Role, code.Inputs, time.GetUtcNow(), code.Desk);
        }
        catch (Exception unwritable) when (unwritable is IOException or UnauthorizedAccessException)
        {
            return Problems.Make(StatusCodes.Status503ServiceUnavailable, "credentials-unavailable", "The credential could not be written down, so there is none.");
        }

        if (pair is not var (made, token))
            return Problems.Conflict("too-many-credentials", $"There are {CredentialStore.Bound} credentials. Revoke one first.");
        context.Response.Cookies.Append(AccessGuard.Cookie, token, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Strict,
            Secure = context.Request.IsHttps,
            MaxAge = CookieLife,
            IsEssential = true,
        });
        return byForm ? TypedResults.Redirect(HomeOf(made.Role)) : TypedResults.Ok(new PairedReply(token, made.Role, made.Name, made.Inputs, made.Desk));
    }

    private static string HomeOf(Role role) => role switch
    {
        Role.Engineer => "/",
        Role.Room => "/room",
        _ => "/stage",
    };

    private static async Task<string?> TypedAsync(HttpRequest request)
    {
        try
        {
            if (request.HasFormContentType)
                return (await request.ReadFormAsync())["code"].ToString();
            return request.HasJsonContentType() ? (await request.ReadFromJsonAsync<PairRequest>(ApiJson.Options))?.Code : null;
        }
        catch (Exception broken) when (broken is System.Text.Json.JsonException or InvalidDataException)
        {
            return null;
        }
    }
}
