using Microsoft.Net.Http.Headers;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Api;

/// <summary>Refuses a body in an encoding that nobody knows, before an endpoint stumbles over it.</summary>
internal static class CharsetGuard
{
    public static Task InvokeAsync(HttpContext context, RequestDelegate next) =>
        MediaTypeHeaderValue.TryParse(context.Request.ContentType, out var type) && type is { Charset.Length: > 0, Encoding: null }
            ? Problems.Make(StatusCodes.Status415UnsupportedMediaType, "json-needed", "The body's charset is not known: write UTF-8.").ExecuteAsync(context)
            : next(context);
}
