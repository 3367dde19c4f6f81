namespace TrimAssist.Service.Outbound.Webhook;

/// <summary>Where events are posted to, and what they are signed with. The key is never written anywhere.</summary>
internal sealed class WebhookOptions
{
    private const string Prefix = "whsec_";
    private const int ShortestKey = 16;

    private WebhookOptions(Uri url, byte[] key) => (Url, Key) = (url, key);

    /// <summary>The receiver.</summary>
    public Uri Url { get; }

    /// <summary>The key of the signature.</summary>
    public byte[] Key { get; }

    /// <summary>Reads the two settings.</summary>
    /// <param name="url">An http or https address without a user name.</param>
    /// <param name="secret">The shared secret: <c>whsec_</c> and Base64, or plain text; 16 bytes at least.</param>
    /// <param name="problem">What is wrong, as a sentence that does not repeat the secret.</param>
    public static WebhookOptions? Read(string url, string? secret, out string? problem)
    {
        problem = null;
        if (!Uri.TryCreate(url, UriKind.Absolute, out var address) || address.Scheme is not ("http" or "https") || address.UserInfo.Length > 0)
            problem = "The webhook's address is an http or https URL without a user name.";
        else if (KeyOf(secret) is not { Length: >= ShortestKey } key)
            problem = $"The webhook needs a secret: whsec_ and Base64, or plain text, {ShortestKey} bytes at least.";
        else
            return new(address, key);
        return null;
    }

    private static byte[]? KeyOf(string? secret)
    {
        if (secret is null)
            return null;
        if (!secret.StartsWith(Prefix, StringComparison.Ordinal))
            return System.Text.Encoding.UTF8.GetBytes(secret);
        var key = new byte[secret.Length];
        return Convert.TryFromBase64String(secret[Prefix.Length..], key, out var length) ? key[..length] : null;
    }
}
