using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.InteropServices;

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

    public bool TrySkip(int count)
    {
        if (_rest.Length < count)
            return Fail(OscError.Truncated);

        _rest = _rest[count..];
        return true;
    }

    // OSC 1.0, OSC-string: a zero ends it, zeros pad it to a multiple of 4 bytes. Names are short: four bytes at a time beat a search.
    public bool TryReadString(out ReadOnlySpan<byte> value)
    {
        var words = MemoryMarshal.Cast<byte, uint>(_rest);
        for (var i = 0; i < words.Length; i++)
        {
            var word = BitConverter.IsLittleEndian ? words[i] : BinaryPrimitives.ReverseEndianness(words[i]);
            var zeros = (word - 0x0101_0101) & ~word & 0x8080_8080;
            if (zeros == 0)
                continue;

            // The lowest mark is exact: it stands in the first byte that is zero.
            var left = BitOperations.TrailingZeroCount(zeros) & ~7;
            if (word >> left != 0)
                break;
            value = _rest[..((i * sizeof(uint)) + (left >> 3))];
            _rest = _rest[((i + 1) * sizeof(uint))..];
            return true;
        }

        value = default;
        return Fail(StringFault());
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

    private readonly OscError StringFault()
    {
        if (_rest.IsEmpty)
            return OscError.Truncated;
        var length = _rest.IndexOf((byte)0);
        return length < 0 ? OscError.NotTerminated : (length | 3) < _rest.Length ? OscError.DirtyPadding : OscError.Truncated;
    }

    private bool Fail(OscError error)
    {
        if (Error == OscError.None)
            Error = error;
        _rest = default;
        return false;
    }
}
