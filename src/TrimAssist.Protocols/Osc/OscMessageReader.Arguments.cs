using System.Buffers.Binary;
using System.Text;

namespace TrimAssist.Protocols.Osc;

/// <content>Reading the arguments one by one.</content>
public ref partial struct OscMessageReader
{
    /// <summary>Reads an <c>i</c>.</summary>
    public bool TryReadInt32(out int value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Int32)
            return false;

        value = (int)TakeWord();
        return true;
    }

    /// <summary>Reads an <c>f</c>; may be a NaN or infinite.</summary>
    public bool TryReadFloat(out float value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Float)
            return false;

        value = BitConverter.UInt32BitsToSingle(TakeWord());
        return true;
    }

    /// <summary>Reads an <c>s</c> or <c>S</c> as the bytes sent, without padding.</summary>
    public bool TryReadString(out ReadOnlySpan<byte> value)
    {
        value = default;
        if (NextTag is not (OscTypeTag.Text or OscTypeTag.Symbol))
            return false;

        value = Here[..OscString.LengthOf(Here)];
        return Advance(OscString.SizeOf(value.Length));
    }

    /// <summary>Reads a <c>b</c>, without padding.</summary>
    public bool TryReadBlob(out ReadOnlySpan<byte> value)
    {
        value = default;
        if (NextTag != OscTypeTag.Blob)
            return false;

        value = OscBlob.Content(Here);
        return Advance(OscBlob.SizeOf(value.Length));
    }

    /// <summary>Reads an <c>h</c>.</summary>
    public bool TryReadInt64(out long value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Int64)
            return false;

        value = (long)TakeDoubleWord();
        return true;
    }

    /// <summary>Reads a <c>d</c>; may be a NaN or infinite.</summary>
    public bool TryReadDouble(out double value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Double)
            return false;

        value = BitConverter.UInt64BitsToDouble(TakeDoubleWord());
        return true;
    }

    /// <summary>Reads a <c>t</c>.</summary>
    public bool TryReadTimeTag(out OscTimeTag value)
    {
        value = default;
        if (NextTag != OscTypeTag.TimeTag)
            return false;

        value = new(TakeDoubleWord());
        return true;
    }

    /// <summary>Reads a <c>T</c> or <c>F</c>.</summary>
    public bool TryReadBoolean(out bool value)
    {
        value = NextTag == OscTypeTag.True;
        return (value || NextTag == OscTypeTag.False) && Advance();
    }

    /// <summary>Reads a <c>c</c>; what is no Unicode scalar value reads as U+FFFD.</summary>
    public bool TryReadCharacter(out Rune value)
    {
        value = default;
        if (NextTag != OscTypeTag.Character)
            return false;

        value = Rune.TryCreate(TakeWord(), out var rune) ? rune : Rune.ReplacementChar;
        return true;
    }

    /// <summary>Reads an <c>r</c> as 0xRRGGBBAA.</summary>
    public bool TryReadColour(out uint value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Colour)
            return false;

        value = TakeWord();
        return true;
    }

    /// <summary>Reads an <c>m</c> as its four bytes from the top: port, status, data 1, data 2.</summary>
    public bool TryReadMidi(out uint value)
    {
        value = 0;
        if (NextTag != OscTypeTag.Midi)
            return false;

        value = TakeWord();
        return true;
    }

    /// <summary>Steps over an <c>N</c>.</summary>
    public bool TryReadNil() => NextTag == OscTypeTag.Nil && Advance();

    /// <summary>Steps over an <c>I</c>.</summary>
    public bool TryReadImpulse() => NextTag == OscTypeTag.Impulse && Advance();

    /// <summary>Steps into an array.</summary>
    public bool TryReadArrayStart() => NextTag == OscTypeTag.ArrayStart && Advance();

    /// <summary>Steps out of an array whose elements have all been read.</summary>
    public bool TryReadArrayEnd() => NextTag == OscTypeTag.ArrayEnd && Advance();

    /// <summary>Reads any type that is a number: <c>i f h d</c>, and <c>T F</c> as 1 and 0. May be a NaN or infinite; an <c>h</c> beyond 2^53 is rounded.</summary>
    public bool TryReadNumber(out double value)
    {
        // Most numbers are floats.
        if (!TryReadFloat(out var real))
            return TryReadOtherNumber(out value);
        value = real;
        return true;
    }

    /// <summary>Steps over the next argument or bracket, whatever its type.</summary>
    public bool TrySkip() => NextTag != OscTypeTag.None && Advance(OscArguments.SizeOf(NextTag, Here));

    /// <summary>Goes back to the first argument or bracket.</summary>
    public void Rewind()
    {
        _tagAt = FirstTagAt;
        // The tags' end and their zeros lead to a multiple of four, as the address does.
        _position = OscString.SizeOf(_tagsEnd);
    }

    /// <summary>Goes to argument <paramref name="index"/>, counted from 0 over the whole message without brackets; false, and no further argument, when there are fewer.</summary>
    public bool TrySeek(int index)
    {
        Rewind();
        for (var left = index; NextTag is var tag and not OscTypeTag.None; TrySkip())
        {
            if (!OscTypeTag.IsBracket(tag) && left-- == 0)
                return true;
        }

        return false;
    }

    /// <summary>Reads argument <paramref name="index"/> as a number, counted as in <see cref="TrySeek"/>.</summary>
    public bool TryReadNumberAt(int index, out double value)
    {
        value = 0;
        return TrySeek(index) && TryReadNumber(out value);
    }

    // All bytes were checked when the message was opened: what the tag promises is there.
    private readonly ReadOnlySpan<byte> Here => _message[_position..];

    private bool TryReadOtherNumber(out double value)
    {
        value = 0;
        switch (NextTag)
        {
            case OscTypeTag.Int32:
                value = (int)TakeWord();
                return true;
            case OscTypeTag.Double:
                value = BitConverter.UInt64BitsToDouble(TakeDoubleWord());
                return true;
            case OscTypeTag.Int64:
                value = (long)TakeDoubleWord();
                return true;
            case OscTypeTag.True:
                value = 1;
                return Advance();
            case OscTypeTag.False:
                return Advance();
            default:
                return false;
        }
    }

    private uint TakeWord()
    {
        var value = BinaryPrimitives.ReadUInt32BigEndian(Here);
        Advance(sizeof(uint));
        return value;
    }

    private ulong TakeDoubleWord()
    {
        var value = BinaryPrimitives.ReadUInt64BigEndian(Here);
        Advance(sizeof(ulong));
        return value;
    }

    private bool Advance(int size = 0)
    {
        _position += size;
        _tagAt++;
        return true;
    }
}
