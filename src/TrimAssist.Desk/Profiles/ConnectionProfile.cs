using System.Globalization;
using System.Net;

namespace TrimAssist.Desk.Profiles;

/// <summary>How bytes travel to the desk.</summary>
public enum DeskTransportKind
{
    /// <summary>One OSC packet a datagram.</summary>
    Udp,

    /// <summary>A stream with a framing.</summary>
    Tcp,

    /// <summary>A MIDI port.</summary>
    Midi,
}

/// <summary>How packets are told apart in a stream.</summary>
public enum DeskFraming
{
    /// <summary>Each datagram is a packet.</summary>
    Datagram,

    /// <summary>SLIP with END at both ends (OSC 1.1).</summary>
    Slip,

    /// <summary>A big-endian int32 size before each packet (OSC 1.0).</summary>
    Length,
}

/// <summary>A host, by address or name, and a port.</summary>
/// <param name="Host">An IP address or a host name.</param>
/// <param name="Port">The port, 0 to 65535; 0 only where the system shall choose.</param>
public sealed record HostAndPort(string Host, int Port)
{
    /// <summary>Reads <c>host:port</c>; an IPv6 address stands in square brackets.</summary>
    public static HostAndPort? Parse(string text)
    {
        var colon = text.LastIndexOf(':');
        if (colon <= 0 || !int.TryParse(text.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out var port) || port > 65535)
            return null;
        var host = text[..colon];
        if (host[0] == '[' && host[^1] == ']')
            host = host[1..^1];
        else if (host.Contains(':', StringComparison.Ordinal))
            return null;
        return IsHost(host) ? new(host, port) : null;
    }

    /// <summary>Whether a text is an IP address or can be a host name.</summary>
    public static bool IsHost(string text) =>
        IPAddress.TryParse(text, out _) || Uri.CheckHostName(text) == UriHostNameType.Dns;

    /// <inheritdoc/>
    public override string ToString() => Host.Contains(':', StringComparison.Ordinal) ? $"[{Host}]:{Port}" : $"{Host}:{Port}";
}

/// <summary>Where the desk is and how to reach it.</summary>
public sealed record ConnectionProfile
{
    /// <summary>How bytes travel.</summary>
    public required DeskTransportKind Transport { get; init; }

    /// <summary>How packets are told apart.</summary>
    public DeskFraming Framing { get; init; }

    /// <summary>Where commands, queries and subscriptions go; over network MIDI the partner's lower port. <see langword="null"/> for a MIDI port of the system.</summary>
    public HostAndPort? Desk { get; init; }

    /// <summary>Where meters and replies arrive; <see langword="null"/> for the same socket.</summary>
    public HostAndPort? Listen { get; init; }

    /// <summary>A second engine of the same desk that takes over when the first falls silent.</summary>
    public HostAndPort? Backup { get; init; }

    /// <summary>Hosts that are let in; empty for the desk's own address (and its backup's).</summary>
    public IReadOnlyList<string> AcceptFrom { get; init; } = [];

    /// <summary>The MIDI port; <see langword="null"/> over the network.</summary>
    public string? MidiPort { get; init; }
}
