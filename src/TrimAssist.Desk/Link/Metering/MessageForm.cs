using System.Buffers.Binary;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// The form that a source's messages were seen to have behind their address: the same type tags, all of fixed size. The next message is held
/// against it byte for byte, at a fraction of the cost of general decoding; whatever differs goes the general way.
/// </summary>
internal sealed class MessageForm
{
    private readonly byte[] _tags;
    private readonly byte _valueTag;
    private readonly int _valueAt;
    private readonly int _length;

    private MessageForm(byte[] tags, byte valueTag, int valueAt, int length) => (_tags, _valueTag, _valueAt, _length) = (tags, valueTag, valueAt, length);

    /// <summary>The form of messages with these type tags; <see langword="null"/> where its sizes vary or the value is no plain number.</summary>
    /// <param name="typeTags">The type tags without their comma.</param>
    /// <param name="argument">Which argument holds the value, from 0.</param>
    public static MessageForm? Of(ReadOnlySpan<byte> typeTags, int argument)
    {
        if (argument >= typeTags.Length || SizeOf(typeTags[argument]) == 0)
            return null;
        // OSC 1.0: a comma before, zeros behind to a multiple of four.
        var tags = new byte[((1 + typeTags.Length) | 3) + 1];
        tags[0] = (byte)',';
        typeTags.CopyTo(tags.AsSpan(1));
        var (at, length) = (0, tags.Length);
        for (var i = 0; i < typeTags.Length; i++)
        {
            if (SizeOf(typeTags[i]) is var size && size == 0)
                return null;
            at = i == argument ? length : at;
            length += size;
        }

        return new(tags, typeTags[argument], at, length);
    }

    /// <summary>Reads the value of a whole message; <see langword="false"/> where the message has another form, faulty ones among them.</summary>
    /// <param name="message">The whole message.</param>
    /// <param name="addressLength">The length of its address.</param>
    /// <param name="value">The value.</param>
    public bool TryRead(ReadOnlySpan<byte> message, int addressLength, out double value)
    {
        value = 0;
        var start = (addressLength | 3) + 1;
        if (message.Length != start + _length
            || BinaryPrimitives.ReadUInt32BigEndian(message[(start - 4)..]) << (8 * (addressLength & 3)) != 0
            || !message[start..].StartsWith(_tags))
        {
            return false;
        }

        var bytes = message[(start + _valueAt)..];
        value = _valueTag switch
        {
            OscTypeTag.Float => BinaryPrimitives.ReadSingleBigEndian(bytes),
            OscTypeTag.Int32 => BinaryPrimitives.ReadInt32BigEndian(bytes),
            OscTypeTag.Double => BinaryPrimitives.ReadDoubleBigEndian(bytes),
            _ => BinaryPrimitives.ReadInt64BigEndian(bytes),
        };
        return true;
    }

    private static int SizeOf(byte tag) => tag switch
    {
        OscTypeTag.Float or OscTypeTag.Int32 => 4,
        OscTypeTag.Double or OscTypeTag.Int64 => 8,
        _ => 0,
    };
}
