using Microsoft.AspNetCore.Http.Features;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Api;

/// <summary>Refuses a body that is too large by its announced length, also where the endpoint would never read it. The web server's own limit sees to those without a length.</summary>
internal static class BodySizeGuard
{
    /// <summary>A body up to this is let run out unread, so that its sender hears the refusal instead of a broken connection.</summary>
    private const long Patience = 8 * 1024 * 1024;

    public static Task InvokeAsync(HttpContext context, RequestDelegate next, int maxBytes)
    {
        if (!(context.Request.ContentLength > maxBytes))
            return next(context);
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit && context.Request.ContentLength <= Patience)
            limit.MaxRequestBodySize = Patience;
        return Problems.Make(StatusCodes.Status413PayloadTooLarge, "too-large", $"A body holds at most {maxBytes / 1024} KiB.").ExecuteAsync(context);
    }
}
