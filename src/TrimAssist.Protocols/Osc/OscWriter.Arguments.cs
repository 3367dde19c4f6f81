using System.Buffers.Binary;
using System.Text;

namespace TrimAssist.Protocols.Osc;

/// <content>Writing the arguments, and the bytes under them.</content>
public ref partial struct OscWriter
{
    /// <summary>Writes an <c>i</c>.</summary>
    public void WriteInt32(int value)
    {
        if (TryTakeTag(OscTypeTag.Int32))
            PutWord((uint)value);
    }

    /// <summary>Writes an <c>f</c>.</summary>
    public void WriteFloat(float value)
    {
        if (TryTakeTag(OscTypeTag.Float))
            PutWord(BitConverter.SingleToUInt32Bits(value));
    }

    /// <summary>Writes an <c>s</c> or <c>S</c> from the bytes to send.</summary>
    public void WriteString(scoped ReadOnlySpan<byte> value)
    {
        if (value.Contains((byte)0))
            Fail(OscWriteError.ZeroInString);
        if (TryTakeTag(OscTypeTag.Text, OscTypeTag.Symbol))
            PutString(value);
    }

    /// <summary>Writes an <c>s</c> or <c>S</c> as UTF-8, of which OSC's ASCII is a part.</summary>
    public void WriteString(scoped ReadOnlySpan<char> value)
    {
        if (value.Contains('\0'))
            Fail(OscWriteError.ZeroInString);
        if (!TryTakeTag(OscTypeTag.Text, OscTypeTag.Symbol))
            return;
        if (Encoding.UTF8.TryGetBytes(value, _buffer[_position..], out var length))
            _position += length;
        else
            Fail(OscWriteError.DoesNotFit);
        PutZeros(4 - (_position & 3));
    }

    /// <summary>Writes a <c>b</c>.</summary>
    public void WriteBlob(scoped ReadOnlySpan<byte> value)
    {
        if (!TryTakeTag(OscTypeTag.Blob))
            return;

        PutWord((uint)value.Length);
        PutBytes(value);
        PutZeros(-_position & 3);
    }

    /// <summary>Writes an <c>h</c>.</summary>
    public void WriteInt64(long value)
    {
        if (TryTakeTag(OscTypeTag.Int64))
            PutDoubleWord((ulong)value);
    }

    /// <summary>Writes a <c>d</c>.</summary>
    public void WriteDouble(double value)
    {
        if (TryTakeTag(OscTypeTag.Double))
            PutDoubleWord(BitConverter.DoubleToUInt64Bits(value));
    }

    /// <summary>Writes a <c>t</c>.</summary>
    public void WriteTimeTag(OscTimeTag value)
    {
        if (TryTakeTag(OscTypeTag.TimeTag))
            PutDoubleWord(value.Value);
    }

    /// <summary>Writes a <c>c</c>.</summary>
    public void WriteCharacter(Rune value)
    {
        if (TryTakeTag(OscTypeTag.Character))
            PutWord((uint)value.Value);
    }

    /// <summary>Writes an <c>r</c>, 0xRRGGBBAA.</summary>
    public void WriteColour(uint value)
    {
        if (TryTakeTag(OscTypeTag.Colour))
            PutWord(value);
    }

    /// <summary>Writes an <c>m</c>: from the top byte port, status, data 1, data 2.</summary>
    public void WriteMidi(uint value)
    {
        if (TryTakeTag(OscTypeTag.Midi))
            PutWord(value);
    }

    private bool TryTakeTag(byte tag, byte? orTag = null)
    {
        if (!_inMessage)
            Fail(OscWriteError.OutOfTurn);
        else if (_tagsLeft.IsEmpty || (_tagsLeft[0] != tag && _tagsLeft[0] != orTag))
            Fail(OscWriteError.ArgumentMismatch);
        if (Error != OscWriteError.None)
            return false;

        _tagsLeft = _tagsLeft[1..];
        PassTagsWithoutBytes();
        return true;
    }

    private void PassTagsWithoutBytes()
    {
        while (!_tagsLeft.IsEmpty && OscTypeTag.SizeOf(_tagsLeft[0]) == 0)
            _tagsLeft = _tagsLeft[1..];
    }

    private void PutTypeTags(scoped ReadOnlySpan<byte> typeTags)
    {
        PutBytes(","u8);
        PutString(typeTags);
    }

    // OSC 1.0, OSC-string: at least one zero, up to the next multiple of 4 bytes of the packet.
    private void PutString(scoped ReadOnlySpan<byte> value)
    {
        PutBytes(value);
        PutZeros(4 - (_position & 3));
    }

    private void PutBytes(scoped ReadOnlySpan<byte> value)
    {
        if (!HasRoom(value.Length))
            return;

        value.CopyTo(_buffer[_position..]);
        _position += value.Length;
    }

    private void PutZeros(int count)
    {
        if (!HasRoom(count))
            return;

        _buffer.Slice(_position, count).Clear();
        _position += count;
    }

    private void PutWord(uint value)
    {
        if (!HasRoom(sizeof(uint)))
            return;

        BinaryPrimitives.WriteUInt32BigEndian(_buffer[_position..], value);
        _position += sizeof(uint);
    }

    private void PutDoubleWord(ulong value)
    {
        if (!HasRoom(sizeof(ulong)))
            return;

        BinaryPrimitives.WriteUInt64BigEndian(_buffer[_position..], value);
        _position += sizeof(ulong);
    }

    private bool HasRoom(int count)
    {
        if (_buffer.Length - _position < count)
            Fail(OscWriteError.DoesNotFit);
        return Error == OscWriteError.None;
    }
}
