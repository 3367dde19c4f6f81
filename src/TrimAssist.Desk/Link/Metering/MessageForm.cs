using System.Buffers.Binary;
using System.Text;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// The form that a source's messages were seen to have: its addresses, the same type tags, all of fixed size. The next message is held
/// against it byte for byte, at a fraction of the cost of general decoding, in whatever order the inputs come; whatever differs goes the
/// general way.
/// </summary>
internal sealed class MessageForm
{
    private readonly byte[][] _heads;
    private readonly HeadIndex _index;
    private readonly byte _valueTag;
    private readonly int _valueAt;
    private readonly int _argumentsLength;

    private MessageForm(byte[][] heads, HeadIndex index, byte valueTag, int valueAt, int argumentsLength) =>
        (_heads, _index, _valueTag, _valueAt, _argumentsLength) = (heads, index, valueTag, valueAt, argumentsLength);

    /// <summary>The form of messages with these type tags; <see langword="null"/> where its sizes vary, the value is no plain number, or an input has no address of its own.</summary>
    /// <param name="address">The addresses.</param>
    /// <param name="inputs">Number of inputs.</param>
    /// <param name="typeTags">The type tags without their comma.</param>
    /// <param name="argument">Which argument holds the value, from 0.</param>
    public static MessageForm? Of(AddressTemplate address, int inputs, ReadOnlySpan<byte> typeTags, int argument)
    {
        if (argument >= typeTags.Length || !address.HasInput || address.HasSocket)
            return null;
        var (at, length) = (0, 0);
        for (var i = 0; i < typeTags.Length; i++)
        {
            if (SizeOf(typeTags[i]) is var size && size == 0)
                return null;
            at = i == argument ? length : at;
            length += size;
        }

        var heads = new byte[inputs][];
        for (var input = 1; input <= inputs; input++)
        {
            if (address.Format(input, null) is not { } text || Encoding.UTF8.GetBytes(text) is var own && !(address.TryMatch(own, out var read, out _) && read == input))
                return null;
            heads[input - 1] = [.. Padded(own), .. Padded([(byte)',', .. typeTags])];
        }

        return HeadIndex.Of(heads) is { } index ? new(heads, index, typeTags[argument], at, length) : null;
    }

    /// <summary>Reads a whole message; <see langword="false"/> where it has another form, faulty ones among them.</summary>
    /// <param name="message">The whole message.</param>
    /// <param name="input">The input's number.</param>
    /// <param name="value">The value.</param>
    public bool TryRead(ReadOnlySpan<byte> message, out int input, out double value)
    {
        value = 0;
        input = _index.Find(message);
        if (input == 0)
            return false;
        ReadOnlySpan<byte> head = _heads[input - 1];
        if (!message.StartsWith(head))
            return false;
        var arguments = message[head.Length..];
        if (arguments.Length != _argumentsLength)
            return false;
        var bytes = arguments[_valueAt..];
        value = _valueTag switch
        {
            OscTypeTag.Float => BinaryPrimitives.ReadSingleBigEndian(bytes),
            OscTypeTag.Int32 => BinaryPrimitives.ReadInt32BigEndian(bytes),
            OscTypeTag.Double => BinaryPrimitives.ReadDoubleBigEndian(bytes),
            _ => BinaryPrimitives.ReadInt64BigEndian(bytes),
        };
        return true;
    }

    // OSC 1.0, OSC-string: one to four zeros behind, to a multiple of four bytes.
    private static byte[] Padded(ReadOnlySpan<byte> text)
    {
        var padded = new byte[(text.Length | 3) + 1];
        text.CopyTo(padded);
        return padded;
    }

    private static int SizeOf(byte tag) => tag switch
    {
        OscTypeTag.Float or OscTypeTag.Int32 => 4,
        OscTypeTag.Double or OscTypeTag.Int64 => 8,
        _ => 0,
    };
}
