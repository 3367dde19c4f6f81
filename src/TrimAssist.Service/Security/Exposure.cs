namespace TrimAssist.Service.Security;

/// <summary>What of this service others can reach.</summary>
/// <param name="urls">Where it was told to listen.</param>
internal sealed class Exposure(IReadOnlyList<Uri> urls)
{
    /// <summary>The warning's name: an address that others can reach is served without HTTPS, so that credentials can be read on the way.</summary>
    public const string NoHttps = "no-https";

    private readonly Uri[] _open = [.. urls.Where(url => !AccessGuard.IsLoopback(url.Host))];

    /// <summary>Whether any address is for others too.</summary>
    public bool IsOpen => _open.Length > 0;

    /// <summary>What whoever runs the service should mend, by name.</summary>
    public IReadOnlyList<string> Warnings => Array.Exists(_open, url => !string.Equals(url.Scheme, Uri.UriSchemeHttps, StringComparison.Ordinal)) ? [NoHttps] : [];
}
