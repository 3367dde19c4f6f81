using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace TrimAssist.Service.Outbound.Webhook;

/// <summary>
/// Signs what is posted: HMAC (RFC 2104) with SHA-256 over id, time and body, so that a receiver can tell who sent it, that nothing
/// was changed, and that it is not an old one played again. The headers are those of the Standard Webhooks specification.
/// </summary>
internal static class WebhookSignature
{
    public const string IdHeader = "webhook-id";
    public const string TimestampHeader = "webhook-timestamp";
    public const string SignatureHeader = "webhook-signature";

    /// <summary>The signature's header.</summary>
    /// <param name="key">The shared key.</param>
    /// <param name="id">The event's id, the same at every try.</param>
    /// <param name="at">When this try is made.</param>
    /// <param name="body">The body as it is sent.</param>
    public static string Of(byte[] key, string id, DateTimeOffset at, string body) =>
        "v1," + Convert.ToBase64String(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes($"{id}.{Timestamp(at)}.{body}")));

    /// <summary>A time as it is signed: seconds since 1970.</summary>
    public static string Timestamp(DateTimeOffset at) => at.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
}
