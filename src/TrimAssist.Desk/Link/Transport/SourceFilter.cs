using System.Net;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>Lets in packets from a few addresses, whatever their port. Allocates nothing per packet.</summary>
public sealed class SourceFilter
{
    private const int IPv4Length = 16;
    private const int IPv6Length = 28;

    private readonly byte[][] _allowed;
    private readonly bool _admitsAll;

    // RFC 4291, section 2.5.5.2: an IPv4 address inside IPv6.
    private static ReadOnlySpan<byte> MappedPrefix => [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0xFF, 0xFF];

    /// <summary>Lets in these addresses only.</summary>
    public SourceFilter(IEnumerable<IPAddress> allowed) => _allowed = [.. allowed.Select(Bytes).Distinct(ByteComparer.Instance)];

    private SourceFilter(bool admitsAll) => (_allowed, _admitsAll) = ([], admitsAll);

    /// <summary>Lets in everything: for a replay, whose packets were let in by a filter when they were recorded. Never for a socket.</summary>
    internal static SourceFilter ForReplay { get; } = new(admitsAll: true);

    /// <summary>Whether a packet from this address is let in.</summary>
    public bool Admits(SocketAddress from)
    {
        if (_admitsAll)
            return true;
        var address = AddressOf(from);
        foreach (var allowed in _allowed)
        {
            if (address.SequenceEqual(allowed))
                return true;
        }

        return false;
    }

    /// <summary>The address bytes of a sender, without port and scope; an IPv4 address inside IPv6 counts as IPv4.</summary>
    internal static ReadOnlySpan<byte> AddressOf(SocketAddress from)
    {
        // sockaddr_in (family, port, address) and sockaddr_in6 (family, port, flow, address, scope) are told apart by their length:
        // asking for the family calls into the system each time.
        var bytes = from.Buffer.Span[..from.Size];
        if (bytes.Length == IPv4Length)
            return bytes[4..8];
        if (bytes.Length != IPv6Length)
            return default;
        var address = bytes[8..24];
        return address[..12].SequenceEqual(MappedPrefix) ? address[12..] : address;
    }

    private static byte[] Bytes(IPAddress address) => (address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address).GetAddressBytes();

    private sealed class ByteComparer : IEqualityComparer<byte[]>
    {
        public static ByteComparer Instance { get; } = new();

        public bool Equals(byte[]? x, byte[]? y) => x.AsSpan().SequenceEqual(y);

        public int GetHashCode(byte[] obj) => obj.Length == 0 ? 0 : obj[^1];
    }
}
