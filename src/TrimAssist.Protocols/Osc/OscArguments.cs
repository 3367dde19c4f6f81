namespace TrimAssist.Protocols.Osc;

/// <summary>Walks the bytes of a message's arguments by their type tags.</summary>
internal static class OscArguments
{
    /// <summary>Whether the tags are known and the bytes are exactly those the tags promise.</summary>
    public static OscError Check(ReadOnlySpan<byte> tags, ReadOnlySpan<byte> bytes)
    {
        var openArrays = 0;
        foreach (var tag in tags)
        {
            var size = OscTypeTag.SizeOf(tag);
            if (size == 0)
            {
                openArrays += tag == OscTypeTag.ArrayStart ? 1 : tag == OscTypeTag.ArrayEnd ? -1 : 0;
                if (openArrays < 0)
                    return OscError.UnbalancedArray;
                continue;
            }

            if (size < 0)
            {
                if (CheckVariable(tag, bytes) is var fault and not OscError.None)
                    return fault;
                size = VariableSizeOf(tag, bytes);
            }

            if (size > bytes.Length)
                return OscError.Truncated;
            bytes = bytes[size..];
        }

        if (openArrays != 0)
            return OscError.UnbalancedArray;
        return bytes.IsEmpty ? OscError.None : OscError.TrailingBytes;
    }

    /// <summary>Bytes that an argument takes which was checked and of which these bytes are the beginning.</summary>
    public static int SizeOf(byte tag, ReadOnlySpan<byte> bytes)
        => OscTypeTag.SizeOf(tag) is var size && size == OscTypeTag.VariableSize ? VariableSizeOf(tag, bytes) : size;

    private static OscError CheckVariable(byte tag, ReadOnlySpan<byte> bytes) => tag switch
    {
        OscTypeTag.Blob => OscBlob.Check(bytes),
        OscTypeTag.Text or OscTypeTag.Symbol => OscString.LengthOf(bytes) == OscString.Faulty ? OscString.FaultOf(bytes) : OscError.None,
        _ => OscError.UnknownTypeTag,
    };

    private static int VariableSizeOf(byte tag, ReadOnlySpan<byte> bytes)
        => tag == OscTypeTag.Blob ? OscBlob.SizeOf(OscBlob.Content(bytes).Length) : OscString.SizeOf(OscString.LengthOf(bytes));
}
