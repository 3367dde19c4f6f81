namespace TrimAssist.Protocols.Osc;

/// <summary>Walks the bytes of a message's arguments by their type tags.</summary>
internal static class OscArguments
{
    /// <summary>Whether the tags are known and the bytes are exactly those the tags promise.</summary>
    public static OscError Check(ReadOnlySpan<byte> tags, ReadOnlySpan<byte> bytes)
    {
        var reader = new OscReader(bytes);
        var openArrays = 0;
        foreach (var tag in tags)
        {
            // The plain case first: a number.
            var size = OscTypeTag.SizeOf(tag);
            if (size > 0 && reader.TrySkip(size))
                continue;
            if (tag == OscTypeTag.ArrayStart)
                openArrays++;
            else if (tag == OscTypeTag.ArrayEnd && --openArrays < 0)
                return OscError.UnbalancedArray;
            else if (size == OscTypeTag.UnknownSize)
                return OscError.UnknownTypeTag;
            else if (!TrySkip(ref reader, tag))
                return reader.Error;
        }

        if (openArrays != 0)
            return OscError.UnbalancedArray;
        return reader.Rest.IsEmpty ? OscError.None : OscError.TrailingBytes;
    }

    /// <summary>Steps over one argument.</summary>
    public static bool TrySkip(ref OscReader reader, byte tag) => OscTypeTag.SizeOf(tag) switch
    {
        OscTypeTag.VariableSize => tag == OscTypeTag.Blob ? reader.TryReadBlob(out _) : reader.TryReadString(out _),
        OscTypeTag.UnknownSize => false,
        0 => true,
        var size => reader.TrySkip(size),
    };
}
