namespace TrimAssist.Protocols.Osc;

/// <summary>One well-formed message, read in place: its address, type tags and arguments are views of the packet. Never throws, never allocates.</summary>
/// <remarks>All bytes were checked before this value was handed out, so a read answers false only when the next argument is of another type or there is none; then the reader does not move.</remarks>
public ref partial struct OscMessageReader
{
    private readonly ReadOnlySpan<byte> _arguments;
    private OscReader _reader;
    private int _next;

    private OscMessageReader(ReadOnlySpan<byte> address, ReadOnlySpan<byte> tags, bool hasTypeTags, OscTimeTag timeTag, OscReader arguments)
    {
        Address = address;
        TypeTags = tags;
        HasTypeTags = hasTypeTags;
        TimeTag = timeTag;
        _arguments = arguments.Rest;
        _reader = arguments;
    }

    /// <summary>The address or address pattern, from its slash, without padding.</summary>
    public ReadOnlySpan<byte> Address { get; }

    /// <summary>The type tags after the comma, brackets of arrays included.</summary>
    public ReadOnlySpan<byte> TypeTags { get; }

    /// <summary>False for an old sender's message that has no type tag string; its arguments cannot be read (OSC 1.0 asks to be robust to it).</summary>
    public bool HasTypeTags { get; }

    /// <summary>When the message is meant: the tag of its bundle, never before that of an enclosing bundle; immediate outside a bundle.</summary>
    public OscTimeTag TimeTag { get; }

    /// <summary>The tag of the next argument or bracket; <see cref="OscTypeTag.None"/> after the last.</summary>
    public readonly byte NextTag => (uint)_next < (uint)TypeTags.Length ? TypeTags[_next] : OscTypeTag.None;

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
        if (reader.Rest.IsEmpty || reader.Rest[0] != (byte)',')
        {
            message = new(address, tags: default, hasTypeTags: false, timeTag, reader);
            return OscError.None;
        }

        if (!reader.TryReadString(out var tags))
            return reader.Error;

        tags = tags[1..];
        var error = OscArguments.Check(tags, reader.Rest);
        if (error == OscError.None)
            message = new(address, tags, hasTypeTags: true, timeTag, reader);
        return error;
    }
}
