using System.Runtime.CompilerServices;
using System.Text;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>An OSC address with places for the input's or the socket's number, made ready for matching bytes without allocation.</summary>
public sealed class AddressTemplate
{
    private readonly TemplatePart[] _parts;
    private readonly byte[] _head;

    private AddressTemplate(string text, TemplatePart[] parts)
    {
        Text = text;
        _parts = parts;
        _head = parts[0].Literal;
        HasInput = Array.Exists(parts, p => p.Stands == Placeholder.Input);
        HasSocket = Array.Exists(parts, p => p.Stands == Placeholder.Socket);
    }

    /// <summary>The template as the profile has it.</summary>
    public string Text { get; }

    /// <summary>Whether the input's number stands in it.</summary>
    public bool HasInput { get; }

    /// <summary>Whether the socket stands in it.</summary>
    public bool HasSocket { get; }

    /// <summary>Whether it is the same for every input.</summary>
    public bool IsFixed => !HasInput && !HasSocket;

    /// <summary>Reads a template.</summary>
    /// <param name="text">The text, beginning with a slash.</param>
    /// <param name="fault">What is wrong with it; <see langword="null"/> when all is well.</param>
    public static AddressTemplate? Parse(string text, out string? fault)
    {
        List<TemplatePart> parts = [];
        fault = text.Length == 0 || text[0] != '/' ? "must begin with a slash" : TemplateSyntax.Split(text, parts);
        if (fault is null && parts.Exists(p => p.Literal.AsSpan().IndexOfAny(TemplateSyntax.NotInAddresses) >= 0))
            fault = "holds one of the characters that OSC forbids in an address: space # * , ? [ ]";
        return fault is null ? new(text, [.. parts]) : null;
    }

    /// <summary>The address of one input.</summary>
    /// <returns><see langword="null"/> where the socket is needed and not known, or a number would be negative.</returns>
    public string? Format(int input, string? socket)
    {
        if (IsFixed)
            return Text;

        var text = new StringBuilder(Text.Length + 8);
        foreach (var part in _parts)
        {
            if (!part.TryWrite(text, input, socket))
                return null;
        }

        return text.ToString();
    }

    /// <summary>Whether an address is one of this template's, and for which input or socket.</summary>
    /// <param name="address">The address's bytes as received.</param>
    /// <param name="input">The input's number; 0 where the template has no place for it.</param>
    /// <param name="socket">The bytes that stand for the socket, as sent; empty where the template has no place for it.</param>
    // Apart from its callers: inside theirs its loop would keep its places in memory, at half as much again.
    [MethodImpl(MethodImplOptions.NoInlining)]
    public bool TryMatch(ReadOnlySpan<byte> address, out int input, out ReadOnlySpan<byte> socket)
    {
        input = 0;
        socket = default;
        // A template begins with a slash, and so with a literal part.
        if (!address.StartsWith(_head))
            return false;
        var rest = address[_head.Length..];
        var parts = _parts;
        for (var i = 1; i < parts.Length; i++)
        {
            ref readonly var part = ref parts[i];
            int length;
            if (part.Stands == Placeholder.Input)
            {
                if (!part.TryReadNumber(rest, out var number, out length) || number < 1 || (input != 0 && input != number))
                    return false;
                input = number;
            }
            else if (part.Stands == Placeholder.None)
            {
                if (!rest.StartsWith(part.Literal))
                    return false;
                length = part.Literal.Length;
            }
            else
            {
                length = SocketLength(rest, i);
                if (length == 0 || (!socket.IsEmpty && !socket.SequenceEqual(rest[..length])))
                    return false;
                socket = rest[..length];
            }

            rest = rest[length..];
        }

        return rest.IsEmpty;
    }

    /// <summary>How a socket's name stands in this template's addresses; <see langword="null"/> where it cannot.</summary>
    public string? FormatSocket(string socket)
    {
        var text = new StringBuilder();
        return HasSocket && Array.Find(_parts, p => p.Stands == Placeholder.Socket).TryWrite(text, 0, socket) ? text.ToString() : null;
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    private int SocketLength(ReadOnlySpan<byte> address, int part)
    {
        var end = part + 1 < _parts.Length ? address.IndexOf(_parts[part + 1].Literal) : address.Length;
        return end > 0 && address[..end].IndexOf((byte)'/') < 0 ? end : 0;
    }
}
