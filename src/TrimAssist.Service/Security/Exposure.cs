namespace TrimAssist.Service.Security;

/// <summary>What of this service others can reach, or read on the way.</summary>
/// <param name="urls">Where it was told to listen.</param>
/// <param name="receivers">Where it was told to send events to.</param>
internal sealed class Exposure(IReadOnlyList<Uri> urls, IReadOnlyList<Uri> receivers)
{
    private static readonly Warning NoHttps = new(
        "no-https", "an address that others can reach is served without HTTPS. Credentials and everything else can be read on the way; use https and --certificate.");

    private static readonly Warning PlainWebhook = new(
        "plain-webhook", "the webhook's address is plain http. The signature keeps others from changing what is posted, not from reading it on the way; use https.");

    private static readonly Warning PlainMqtt = new(
        "plain-mqtt", "the broker is reached without TLS. User name, password and every event can be read and changed on the way; use mqtts.");

    private readonly Uri[] _open = [.. urls.Where(IsElsewhere)];

    /// <summary>Whether any address is for others too.</summary>
    public bool IsOpen => _open.Length > 0;

    /// <summary>What whoever runs the service should mend.</summary>
    public IReadOnlyList<Warning> Warnings { get; } =
    [
        .. urls.Any(url => IsElsewhere(url) && !Speaks(url, "https")) ? [NoHttps] : Array.Empty<Warning>(),
        .. receivers.Any(url => IsElsewhere(url) && Speaks(url, "http")) ? [PlainWebhook] : Array.Empty<Warning>(),
        .. receivers.Any(url => IsElsewhere(url) && Speaks(url, "mqtt")) ? [PlainMqtt] : Array.Empty<Warning>(),
    ];

    private static bool IsElsewhere(Uri url) => !LocalDoor.IsLoopback(url.Host);

    private static bool Speaks(Uri url, string scheme) => string.Equals(url.Scheme, scheme, StringComparison.Ordinal);

    /// <summary>Something to mend.</summary>
    /// <param name="Name">Its name, for programs.</param>
    /// <param name="Text">What it means and what to do, as the rest of a sentence.</param>
    internal sealed record Warning(string Name, string Text);
}
