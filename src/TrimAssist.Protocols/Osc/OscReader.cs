using System.Buffers.Binary;

namespace TrimAssist.Protocols.Osc;

/// <summary>Reads OSC's atomic values one after another from bytes; never throws, never allocates. The first fault sticks and every later read answers false.</summary>
internal ref struct OscReader(ReadOnlySpan<byte> bytes)
{
    private ReadOnlySpan<byte> _rest = bytes;

    public OscError Error { get; private set; }

    public readonly ReadOnlySpan<byte> Rest => _rest;

    public bool TryReadUInt32(out uint value)
    {
        if (_rest.Length < sizeof(uint))
        {
            value = 0;
            return Fail(OscError.Truncated);
        }

        value = BinaryPrimitives.ReadUInt32BigEndian(_rest);
        _rest = _rest[sizeof(uint)..];
        return true;
    }

    public bool TryReadUInt64(out ulong value)
    {
        if (_rest.Length < sizeof(ulong))
        {
            value = 0;
            return Fail(OscError.Truncated);
        }

        value = BinaryPrimitives.ReadUInt64BigEndian(_rest);
        _rest = _rest[sizeof(ulong)..];
        return true;
    }

    public bool TrySkip(int count)
    {
        if (_rest.Length < count)
            return Fail(OscError.Truncated);

        _rest = _rest[count..];
        return true;
    }

    // OSC 1.0, OSC-string: a zero ends it, zeros pad it to a multiple of 4 bytes.
    public bool TryReadString(out ReadOnlySpan<byte> value)
    {
        value = default;
        if (_rest.IsEmpty)
            return Fail(OscError.Truncated);

        var length = _rest.IndexOf((byte)0);
        if (length < 0)
            return Fail(OscError.NotTerminated);

        var lastWord = length & ~3;
        if (_rest.Length < lastWord + 4)
            return Fail(OscError.Truncated);
        if (BinaryPrimitives.ReadUInt32BigEndian(_rest[lastWord..]) << (8 * (length & 3)) != 0)
            return Fail(OscError.DirtyPadding);

        value = _rest[..length];
        _rest = _rest[(lastWord + 4)..];
        return true;
    }

    // OSC 1.0, OSC-blob: int32 size without padding, the bytes, zeros to a multiple of 4 bytes.
    public bool TryReadBlob(out ReadOnlySpan<byte> value)
    {
        value = default;
        if (!TryReadUInt32(out var size))
            return false;
        if (size > (uint)_rest.Length)
            return Fail(OscError.BadBlobSize);

        var padded = ((int)size + 3) & ~3;
        if (padded > _rest.Length)
            return Fail(OscError.Truncated);
        if (_rest[(int)size..padded].ContainsAnyExcept((byte)0))
            return Fail(OscError.DirtyPadding);

        value = _rest[..(int)size];
        _rest = _rest[padded..];
        return true;
    }

    private bool Fail(OscError error)
    {
        if (Error == OscError.None)
            Error = error;
        _rest = default;
        return false;
    }
}
