using System.Buffers.Binary;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>Checks a message as the specification reads, one byte after another: what the reader's quick ways are held against.</summary>
internal sealed class PlainMessage
{
    private readonly byte[] _bytes;
    private int _at;

    public PlainMessage(ReadOnlySpan<byte> bytes)
    {
        _bytes = bytes.ToArray();
        Error = Check();
    }

    public OscError Error { get; private set; }

    public byte[] Address { get; private set; } = [];

    public byte[] TypeTags { get; private set; } = [];

    private int Left => _bytes.Length - _at;

    private OscError Check()
    {
        if (_bytes.Length == 0)
            return OscError.Empty;
        if (_bytes.Length % 4 != 0)
            return OscError.Unaligned;
        Address = Text();
        if (Error != OscError.None)
            return Error;
        if (Address is not [(byte)'/', ..])
            return OscError.BadAddress;
        if (Left == 0 || _bytes[_at] != (byte)',')
            return OscError.None;

        TypeTags = Text();
        var open = 0;
        foreach (var tag in TypeTags.Skip(1).TakeWhile(_ => Error == OscError.None))
            Take((char)tag, ref open);
        return Error != OscError.None ? Error : open != 0 ? OscError.UnbalancedArray : Left > 0 ? OscError.TrailingBytes : OscError.None;
    }

    private void Take(char tag, ref int open)
    {
        switch (tag)
        {
            case 'i' or 'f' or 'c' or 'r' or 'm':
                Skip(4);
                break;
            case 'h' or 'd' or 't':
                Skip(8);
                break;
            case 's' or 'S':
                Text();
                break;
            case 'b':
                Blob();
                break;
            case '[':
                open++;
                break;
            case ']' when --open < 0:
                Error = OscError.UnbalancedArray;
                break;
            case ']' or 'T' or 'F' or 'N' or 'I':
                break;
            default:
                Error = OscError.UnknownTypeTag;
                break;
        }
    }

    private void Skip(int count)
    {
        if (Left < count)
            Error = OscError.Truncated;
        else
            _at += count;
    }

    private byte[] Text()
    {
        var start = _at;
        if (Left == 0)
            Error = OscError.Truncated;
        while (Error == OscError.None && _bytes[_at] != 0)
        {
            if (++_at == _bytes.Length)
                Error = OscError.NotTerminated;
        }

        var end = _at;
        if (Error == OscError.None)
            Pad(1);
        return _bytes[start..end];
    }

    private void Blob()
    {
        if (Left < 4)
        {
            Error = OscError.Truncated;
            return;
        }

        var size = BinaryPrimitives.ReadInt32BigEndian(_bytes.AsSpan(_at));
        _at += 4;
        if (size < 0 || size > Left)
        {
            Error = OscError.BadBlobSize;
            return;
        }

        _at += size;
        Pad(0);
    }

    // At least so many zeros, and as many more as lead to a multiple of four bytes.
    private void Pad(int least)
    {
        for (var count = 0; count < least || _at % 4 != 0; count++)
        {
            if (_bytes[_at++] != 0)
                Error = OscError.DirtyPadding;
        }
    }
}
