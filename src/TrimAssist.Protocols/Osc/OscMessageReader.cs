using System.Runtime.CompilerServices;

namespace TrimAssist.Protocols.Osc;

/// <summary>One well-formed message, read in place: its address, type tags and arguments are views of the packet. Never throws, never allocates.</summary>
/// <remarks>All bytes were checked before this value was handed out, so a read answers false only when the next argument is of another type or there is none; then the reader does not move.</remarks>
public ref partial struct OscMessageReader
{
    // Places rather than views: a message is handed on by value, and the smaller it is the cheaper.
    private readonly ReadOnlySpan<byte> _message;
    private readonly int _addressLength;
    private readonly int _tagsEnd;
    private int _tagAt;
    private int _position;

    private OscMessageReader(ReadOnlySpan<byte> message, int addressLength, int tagsEnd, OscTimeTag timeTag)
    {
        _message = message;
        _addressLength = addressLength;
        _tagsEnd = tagsEnd;
        TimeTag = timeTag;
        Rewind();
    }

    /// <summary>The address or address pattern, from its slash, without padding.</summary>
    public readonly ReadOnlySpan<byte> Address => _message[.._addressLength];

    /// <summary>The type tags after the comma, brackets of arrays included.</summary>
    public readonly ReadOnlySpan<byte> TypeTags => HasTypeTags ? _message[FirstTagAt.._tagsEnd] : default;

    /// <summary>False for an old sender's message that has no type tag string; its arguments cannot be read (OSC 1.0 asks to be robust to it).</summary>
    public readonly bool HasTypeTags => _tagsEnd > 0;

    /// <summary>When the message is meant: the tag of its bundle, never before that of an enclosing bundle; immediate outside a bundle.</summary>
    public OscTimeTag TimeTag { get; }

    /// <summary>The tag of the next argument or bracket; <see cref="OscTypeTag.None"/> after the last.</summary>
    public readonly byte NextTag => _tagAt < _tagsEnd ? _message[_tagAt] : OscTypeTag.None;

    private readonly int FirstTagAt => OscString.SizeOf(_addressLength) + 1;

    /// <summary>Opens the bytes of one message that is not in a bundle; the whole message is checked.</summary>
    public static bool TryOpen(ReadOnlySpan<byte> bytes, out OscMessageReader message, out OscError error)
    {
        if (OscPacketReader.CheckSize(bytes.Length) is var fault and not OscError.None)
        {
            message = default;
            error = fault;
            return false;
        }

        error = Open(bytes, OscTimeTag.Immediate, out message);
        return error == OscError.None;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static OscError Open(ReadOnlySpan<byte> bytes, OscTimeTag timeTag, out OscMessageReader message)
    {
        var error = Check(bytes, out var addressLength, out var tagsEnd);
        if (error == OscError.None)
            message = new(bytes, addressLength, tagsEnd, timeTag);
        else
            message = default;
        return error;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static OscError Check(ReadOnlySpan<byte> bytes, out int addressLength, out int tagsEnd)
    {
        tagsEnd = 0;
        addressLength = OscString.LengthOf(bytes);
        if (addressLength == OscString.Faulty)
            return OscString.FaultOf(bytes);
        if (bytes[0] != (byte)'/')
            return OscError.BadAddress;

        var tagsAt = OscString.SizeOf(addressLength);
        // OSC 1.0, "OSC Type Tag String": older senders omit it; it begins with a comma.
        if (tagsAt == bytes.Length || bytes[tagsAt] != (byte)',')
            return OscError.None;
        var error = CheckArguments(bytes[tagsAt..], out var tagsLength);
        tagsEnd = tagsAt + tagsLength;
        return error;
    }

    /// <summary>Whether the type tags are known and the bytes are exactly those the tags promise.</summary>
    /// <param name="bytes">From the type tag string on.</param>
    /// <param name="tagsLength">The length of the type tag string, comma included.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static OscError CheckArguments(ReadOnlySpan<byte> bytes, out int tagsLength)
    {
        // Most messages carry one number: a comma, its tag, two zeros.
        if (bytes[3] == 0 && bytes[2] == 0 && OscTypeTag.SizeOf(bytes[1]) is > 0 and var size && bytes.Length == sizeof(uint) + size)
        {
            tagsLength = 2;
            return OscError.None;
        }

        tagsLength = OscString.LengthOf(bytes);
        return tagsLength == OscString.Faulty
            ? OscString.FaultOf(bytes)
            : OscArguments.Check(bytes[1..tagsLength], bytes[OscString.SizeOf(tagsLength)..]);
    }
}
