namespace TrimAssist.Service.Api;

/// <summary>Refuses a body that is too large by its announced length, also where the endpoint would never read it. The web server's own limit sees to those without a length.</summary>
internal static class BodySizeGuard
{
    public static Task InvokeAsync(HttpContext context, RequestDelegate next, int maxBytes) => context.Request.ContentLength > maxBytes
        ? Problems.Make(StatusCodes.Status413PayloadTooLarge, "too-large", $"A body holds at most {maxBytes / 1024} KiB.").ExecuteAsync(context)
        : next(context);
}
