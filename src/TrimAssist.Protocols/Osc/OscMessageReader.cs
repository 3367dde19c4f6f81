namespace TrimAssist.Protocols.Osc;

/// <summary>One well-formed message, read in place: its address, type tags and arguments are views of the packet. Never throws, never allocates.</summary>
/// <remarks>All bytes were checked before this value was handed out, so a read answers false only when the next argument is of another type or there is none; then the reader does not move.</remarks>
public ref partial struct OscMessageReader
{
    // Places rather than views: a message is handed on by value, and the smaller it is the cheaper.
    private readonly ReadOnlySpan<byte> _message;
    private readonly int _addressLength;
    private readonly int _tagsAt;
    private readonly int _tagCount;
    private readonly int _argumentsAt;
    private int _next;
    private int _position;

    private OscMessageReader(ReadOnlySpan<byte> message, int addressLength, int tagsAt, int tagCount, int argumentsAt, OscTimeTag timeTag)
    {
        _message = message;
        _addressLength = addressLength;
        _tagsAt = tagsAt;
        _tagCount = tagCount;
        _argumentsAt = _position = argumentsAt;
        TimeTag = timeTag;
    }

    /// <summary>The address or address pattern, from its slash, without padding.</summary>
    public readonly ReadOnlySpan<byte> Address => _message[.._addressLength];

    /// <summary>The type tags after the comma, brackets of arrays included.</summary>
    public readonly ReadOnlySpan<byte> TypeTags => _message.Slice(_tagsAt, _tagCount);

    /// <summary>False for an old sender's message that has no type tag string; its arguments cannot be read (OSC 1.0 asks to be robust to it).</summary>
    public readonly bool HasTypeTags => _tagsAt > 0;

    /// <summary>When the message is meant: the tag of its bundle, never before that of an enclosing bundle; immediate outside a bundle.</summary>
    public OscTimeTag TimeTag { get; }

    /// <summary>The tag of the next argument or bracket; <see cref="OscTypeTag.None"/> after the last.</summary>
    public readonly byte NextTag => (uint)_next < (uint)_tagCount ? _message[_tagsAt + _next] : OscTypeTag.None;

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

    internal static OscError Open(ReadOnlySpan<byte> bytes, OscTimeTag timeTag, out OscMessageReader message)
    {
        message = default;
        var reader = new OscReader(bytes);
        if (!reader.TryReadString(out var address))
            return reader.Error;
        if (address.IsEmpty || address[0] != (byte)'/')
            return OscError.BadAddress;

        // OSC 1.0, "OSC Type Tag String": older senders omit it; it begins with a comma.
        var tagsAt = bytes.Length - reader.Rest.Length;
        if (tagsAt == bytes.Length || bytes[tagsAt] != (byte)',')
        {
            message = new(bytes, address.Length, tagsAt: 0, tagCount: 0, tagsAt, timeTag);
            return OscError.None;
        }

        if (!reader.TryReadString(out var tags))
            return reader.Error;

        var error = OscArguments.Check(tags[1..], reader.Rest);
        if (error == OscError.None)
            message = new(bytes, address.Length, tagsAt + 1, tags.Length - 1, bytes.Length - reader.Rest.Length, timeTag);
        return error;
    }
}
