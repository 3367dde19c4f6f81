using System.Text;

namespace TrimAssist.Protocols.Osc;

/// <summary>An OSC message as a value, for control rate; meters read with <see cref="OscPacketReader"/> instead.</summary>
/// <param name="Address">The address or pattern, from its slash.</param>
/// <param name="Arguments">The arguments in order, array brackets included.</param>
public sealed record OscMessage(string Address, IReadOnlyList<OscArgument> Arguments)
{
    /// <summary>A message of these arguments.</summary>
    public OscMessage(string address, params ReadOnlySpan<OscArgument> arguments)
        : this(address, (IReadOnlyList<OscArgument>)arguments.ToArray())
    {
    }

    /// <summary>Reads the bytes of one message that is not in a bundle.</summary>
    public static bool TryParse(ReadOnlySpan<byte> bytes, out OscMessage? message, out OscError error)
    {
        message = OscMessageReader.TryOpen(bytes, out var reader, out error) ? From(reader) : null;
        return message is not null;
    }

    /// <summary>Copies a message out of its packet, from its first argument on.</summary>
    public static OscMessage From(OscMessageReader message)
    {
        message.Rewind();
        var arguments = new List<OscArgument>(message.TypeTags.Length);
        while (OscArgument.TryRead(ref message, out var argument))
            arguments.Add(argument);
        return new(Encoding.UTF8.GetString(message.Address), arguments);
    }

    /// <summary>The bytes of the message.</summary>
    /// <exception cref="InvalidOperationException">The address or an argument cannot be sent; the text names the <see cref="OscWriteError"/>.</exception>
    public byte[] Encode()
    {
        var buffer = new byte[MaxSize];
        var writer = new OscWriter(buffer);
        WriteTo(ref writer);
        return writer.TryFinish(out var length)
            ? buffer[..length]
            : throw new InvalidOperationException($"The message to {Address} cannot be written: {writer.Error}.");
    }

    /// <summary>Writes the message, for example as an element of a bundle.</summary>
    public void WriteTo(ref OscWriter writer)
    {
        var tags = new byte[Arguments.Count];
        for (var i = 0; i < tags.Length; i++)
            tags[i] = Arguments[i].Tag;

        writer.BeginMessage(Encoding.UTF8.GetBytes(Address), tags);
        foreach (var argument in Arguments)
            argument.WriteTo(ref writer);
        writer.EndMessage();
    }

    /// <summary>An upper bound of the message's bytes.</summary>
    public int MaxSize => Encoding.UTF8.GetMaxByteCount(Address.Length) + 16 + Arguments.Sum(argument => argument.MaxSize);

    /// <summary>The same bytes on the wire.</summary>
    public bool Equals(OscMessage? other)
        => other is not null && string.Equals(Address, other.Address, StringComparison.Ordinal) && Arguments.SequenceEqual(other.Arguments);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Address, Arguments.Count);

    /// <inheritdoc/>
    public override string ToString() => $"{Address} {string.Join(' ', Arguments)}";
}
