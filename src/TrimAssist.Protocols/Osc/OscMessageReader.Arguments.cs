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
        return NextTag is OscTypeTag.Text or OscTypeTag.Symbol && Advance(_reader.TryReadString(out value));
    }

    /// <summary>Reads a <c>b</c>, without padding.</summary>
    public bool TryReadBlob(out ReadOnlySpan<byte> value)
    {
        value = default;
        return NextTag == OscTypeTag.Blob && Advance(_reader.TryReadBlob(out value));
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
        return (value || NextTag == OscTypeTag.False) && Advance(true);
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
    public bool TryReadNil() => NextTag == OscTypeTag.Nil && Advance(true);

    /// <summary>Steps over an <c>I</c>.</summary>
    public bool TryReadImpulse() => NextTag == OscTypeTag.Impulse && Advance(true);

    /// <summary>Steps into an array.</summary>
    public bool TryReadArrayStart() => NextTag == OscTypeTag.ArrayStart && Advance(true);

    /// <summary>Steps out of an array whose elements have all been read.</summary>
    public bool TryReadArrayEnd() => NextTag == OscTypeTag.ArrayEnd && Advance(true);

    /// <summary>Reads any type that is a number: <c>i f h d</c>, and <c>T F</c> as 1 and 0. May be a NaN or infinite; an <c>h</c> beyond 2^53 is rounded.</summary>
    public bool TryReadNumber(out double value)
    {
        value = 0;
        switch (NextTag)
        {
            case OscTypeTag.Float:
                value = BitConverter.UInt32BitsToSingle(TakeWord());
                return true;
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
                return Advance(true);
            case OscTypeTag.False:
                return Advance(true);
            default:
                return false;
        }
    }

    /// <summary>Steps over the next argument or bracket, whatever its type.</summary>
    public bool TrySkip() => NextTag != OscTypeTag.None && Advance(OscArguments.TrySkip(ref _reader, NextTag));

    /// <summary>Goes back to the first argument or bracket.</summary>
    public void Rewind()
    {
        _reader = new(_arguments);
        _next = 0;
    }

    /// <summary>Goes to argument <paramref name="index"/>, counted from 0 over the whole message without brackets; false, and no further argument, when there are fewer.</summary>
    public bool TrySeek(int index)
    {
        Rewind();
        for (var left = index; left >= 0 && NextTag != OscTypeTag.None; TrySkip())
        {
            if (!OscTypeTag.IsBracket(NextTag) && left-- == 0)
                return true;
        }

        _next = TypeTags.Length;
        return false;
    }

    /// <summary>Reads argument <paramref name="index"/> as a number, counted as in <see cref="TrySeek"/>.</summary>
    public bool TryReadNumberAt(int index, out double value)
    {
        value = 0;
        return TrySeek(index) && TryReadNumber(out value);
    }

    private uint TakeWord()
    {
        _next++;
        _ = _reader.TryReadUInt32(out var value);
        return value;
    }

    private ulong TakeDoubleWord()
    {
        _next++;
        _ = _reader.TryReadUInt64(out var value);
        return value;
    }

    private bool Advance(bool read)
    {
        if (read)
            _next++;
        return read;
    }
}
