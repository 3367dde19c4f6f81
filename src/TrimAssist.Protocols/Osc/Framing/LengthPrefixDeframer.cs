using System.Buffers.Binary;

namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>OSC 1.0 stream framing: an int32 size before each packet (OSC 1.0, "OSC Packets"). A size beyond the limit is refused before any memory is taken for it.</summary>
/// <param name="maxPacketSize">The largest packet accepted, in bytes.</param>
public sealed class LengthPrefixDeframer(int maxPacketSize = LengthPrefixDeframer.DefaultMaxPacketSize) : IOscDeframer
{
    /// <summary>The limit where none is given: what a datagram could carry.</summary>
    public const int DefaultMaxPacketSize = 65_536;

    private readonly byte[] _head = new byte[sizeof(int)];
    private byte[] _body = [];
    private int _headLength;
    private int _bodyLength;
    private int _size;

    /// <inheritdoc/>
    public FramingError Error { get; private set; }

    /// <inheritdoc/>
    public long Refused => IsLost ? 1 : 0;

    /// <inheritdoc/>
    public bool IsLost => Error != FramingError.None;

    /// <inheritdoc/>
    public bool TryRead(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        while (!IsLost && TryReadHead(ref input))
        {
            if (!TryReadBody(ref input, out packet))
                return false;

            _headLength = 0;
            _bodyLength = 0;
            if (!packet.IsEmpty)
                return true;
        }

        input = default;
        return false;
    }

    private bool TryReadHead(ref ReadOnlySpan<byte> input)
    {
        if (_headLength == sizeof(int))
            return true;

        _headLength += Take(ref input, _head.AsSpan(_headLength));
        if (_headLength < sizeof(int))
            return false;

        _size = BinaryPrimitives.ReadInt32BigEndian(_head);
        Error = _size < 0 ? FramingError.NegativeSize : _size > maxPacketSize ? FramingError.TooLong : FramingError.None;
        return !IsLost;
    }

    private bool TryReadBody(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet)
    {
        if (_bodyLength == 0 && input.Length >= _size)
        {
            packet = input[.._size];
            input = input[_size..];
            return true;
        }

        if (_body.Length < _size)
            Array.Resize(ref _body, _size);
        _bodyLength += Take(ref input, _body.AsSpan(_bodyLength, _size - _bodyLength));
        packet = _body.AsSpan(0, _bodyLength);
        return _bodyLength == _size;
    }

    private static int Take(ref ReadOnlySpan<byte> input, Span<byte> destination)
    {
        var count = Math.Min(input.Length, destination.Length);
        input[..count].CopyTo(destination);
        input = input[count..];
        return count;
    }
}
