using System.Text;
using TrimAssist.Desk.Profiles.Templates;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>Which socket feeds which input, kept ready for comparing with the bytes of an address.</summary>
internal sealed class SocketIndex(int inputs)
{
    private readonly string?[] _sockets = new string?[inputs];
    private readonly Dictionary<AddressTemplate, byte[]?[]> _written = [];

    /// <summary>The socket of an input; <see langword="null"/> while the desk has not said.</summary>
    public string? this[int input] => _sockets[input - 1];

    /// <summary>Takes in which socket feeds an input now.</summary>
    public void Set(int input, string? socket)
    {
        _sockets[input - 1] = socket;
        foreach (var (template, written) in _written)
            written[input - 1] = Write(template, socket);
    }

    /// <summary>Whether a socket as written in an address of this template feeds the input.</summary>
    public bool Feeds(AddressTemplate template, int input, ReadOnlySpan<byte> socket)
    {
        if (!_written.TryGetValue(template, out var written))
            _written[template] = written = [.. _sockets.Select(s => Write(template, s))];
        return written[input - 1] is { } bytes && socket.SequenceEqual(bytes);
    }

    private static byte[]? Write(AddressTemplate template, string? socket) =>
        socket is not null && template.FormatSocket(socket) is { } text ? Encoding.UTF8.GetBytes(text) : null;
}
