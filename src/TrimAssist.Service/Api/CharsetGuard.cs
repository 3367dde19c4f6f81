using Microsoft.Net.Http.Headers;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Api;

/// <summary>Refuses a body in an encoding that nobody knows, before an endpoint stumbles over it.</summary>
internal static class CharsetGuard
{
    public static Task InvokeAsync(HttpContext context, RequestDelegate next)
    {
        if (!MediaTypeHeaderValue.TryParse(context.Request.ContentType, out var type) || type.Charset.Length == 0)
            return next(context);
        // A parameter's value may stand in quotes (RFC 9110, section 8.3.1), which whoever reads the body takes for a part of the name.
        var plain = HeaderUtilities.UnescapeAsQuotedString(type.Charset);
        if (plain != type.Charset)
        {
            type.Charset = plain;
            context.Request.ContentType = type.ToString();
        }

        return type.Encoding is null
            ? Problems.Make(StatusCodes.Status415UnsupportedMediaType, "json-needed", "The body's charset is not known: write UTF-8.").ExecuteAsync(context)
            : next(context);
    }
}
