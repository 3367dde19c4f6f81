using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace TrimAssist.Service.Outbound.Mqtt;

/// <summary>Which broker events go to, and how. The password is never written anywhere.</summary>
/// <param name="Host">The broker.</param>
/// <param name="Port">Its port.</param>
/// <param name="Tls">Whether the connection is encrypted and the broker's certificate checked.</param>
/// <param name="User">The user name; <see langword="null"/> for none.</param>
/// <param name="Password">The password.</param>
/// <param name="Topic">What every topic begins with.</param>
/// <param name="Authorities">Certificates to trust besides the system's; empty for none.</param>
internal sealed record MqttOptions(string Host, int Port, bool Tls, string? User, string? Password, string Topic, X509Certificate2Collection Authorities)
{
    /// <summary>What topics begin with unless told.</summary>
    public const string DefaultTopic = "trimassist";

    private const int PlainPort = 1883;
    private const int TlsPort = 8883;
    private const int LongestTopic = 100;

    /// <summary>Reads the settings.</summary>
    /// <param name="server"><c>mqtt://HOST[:PORT]</c>, or <c>mqtts://</c> for TLS.</param>
    /// <param name="user">The user name.</param>
    /// <param name="password">The password.</param>
    /// <param name="topic">What topics begin with.</param>
    /// <param name="authorityFile">A PEM file of certificates to trust, for a broker with one of its own.</param>
    /// <param name="problem">What is wrong, as a sentence that repeats no password.</param>
    public static MqttOptions? Read(string server, string? user, string? password, string? topic, string? authorityFile, out string? problem)
    {
        problem = null;
        if (!Uri.TryCreate(server, UriKind.Absolute, out var address) || address.Scheme is not ("mqtt" or "mqtts") || address.Host.Length == 0 || address.UserInfo.Length > 0 || address.PathAndQuery is not ("" or "/"))
            problem = "The broker is mqtt://HOST or mqtts://HOST, with a port where it is not the usual one; user and password are settings of their own.";
        else if (topic is not null && (topic.Length is 0 or > LongestTopic || topic.Any(letter => letter is '+' or '#' or '\0') || topic.StartsWith('/') || topic.EndsWith('/')))
            problem = $"The topic is a name of at most {LongestTopic} letters without + and #, and neither begins nor ends with a slash.";
        else if (ReadAuthorities(authorityFile, out problem) is { } authorities)
            return Of(address, user, password, topic ?? DefaultTopic, authorities);
        return null;
    }

    /// <inheritdoc/>
    public override string ToString() => $"{(Tls ? "mqtts" : "mqtt")}://{Host}:{Port}";

    private static MqttOptions Of(Uri address, string? user, string? password, string topic, X509Certificate2Collection authorities)
    {
        var tls = address.Scheme is "mqtts";
        return new(address.Host, address.Port > 0 ? address.Port : tls ? TlsPort : PlainPort, tls, user, password, topic, authorities);
    }

    private static X509Certificate2Collection? ReadAuthorities(string? file, out string? problem)
    {
        problem = null;
        var authorities = new X509Certificate2Collection();
        if (file is null)
            return authorities;
        try
        {
            authorities.ImportFromPemFile(file);
            return authorities;
        }
        catch (Exception wrong) when (wrong is CryptographicException or IOException or UnauthorizedAccessException)
        {
            problem = $"{file} holds no certificates to trust: {wrong.Message}";
            return null;
        }
    }
}
