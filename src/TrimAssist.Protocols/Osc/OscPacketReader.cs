using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace TrimAssist.Protocols.Osc;

/// <summary>Reads the messages of one OSC packet in order, through bundles inside bundles, without recursion or allocation; never throws.</summary>
/// <remarks>
/// Read with <c>while (packet.TryReadMessage(out var message))</c> and look at <see cref="Error"/> afterwards. A message with an unknown
/// type tag is left out and reading goes on (OSC 1.0); any other fault ends the packet. The first fault is kept.
/// </remarks>
public ref struct OscPacketReader
{
    /// <summary>How many bundles may lie inside one another.</summary>
    public const int MaxBundleDepth = 8;

    private const int BundleHeadSize = 16;
    private const int ElementHeadSize = sizeof(int);

    /// <summary>The depth before the first element; afterwards it is how many bundles are open.</summary>
    private const int NotBegun = -1;

    private readonly ReadOnlySpan<byte> _packet;
    private InlineArray8<int> _ends;
    private InlineArray8<OscTimeTag> _timeTags;
    private int _depth;
    private int _position;

    /// <summary>Begins to read a packet: one datagram, or one frame of a stream.</summary>
    public OscPacketReader(ReadOnlySpan<byte> packet)
    {
        _packet = packet;
        _depth = NotBegun;
    }

    /// <summary>The first fault met so far.</summary>
    public OscError Error { get; private set; }

    /// <summary>Messages left out for an unknown type tag.</summary>
    public int DiscardedMessages { get; private set; }

    // OSC 1.0, "Temporal Semantics": an enclosed bundle may not be earlier than its enclosing one.
    private readonly OscTimeTag TimeTag => _depth == 0 ? OscTimeTag.Immediate : _timeTags[_depth - 1];

    private readonly bool IsAtEnd => _depth == 0;

    /// <summary>Finds the next well-formed message; false at the end of the packet or at a fault.</summary>
    public bool TryReadMessage(out OscMessageReader message)
    {
        // Most packets are one message, whose end is seen here.
        if (!IsAtEnd)
            return TryReadNext(out message);
        message = default;
        return false;
    }

    /// <summary>What is wrong with a packet or element of this many bytes.</summary>
    internal static OscError CheckSize(int size)
        => size == 0 ? OscError.Empty : (size & 3) != 0 ? OscError.Unaligned : OscError.None;

    // One method of all that every message needs, apart from its callers: left alone, the compiler draws the line anew in each of them.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool TryReadNext(out OscMessageReader message)
    {
        while (NextElement() is var element && !element.IsEmpty)
        {
            if (element[0] == (byte)'#')
            {
                if (!TryEnterBundle(element))
                    break;
                continue;
            }

            var error = OscMessageReader.Open(element, TimeTag, out message);
            if (error == OscError.None)
                return true;
            if (error != OscError.UnknownTypeTag)
            {
                Fail(error);
                break;
            }

            DiscardedMessages++;
            Note(error);
        }

        message = default;
        return false;
    }

    // Empty at the end or at a fault: an element of no bytes is one.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ReadOnlySpan<byte> NextElement()
    {
        if (_depth == NotBegun)
        {
            _depth = 0;
            _position = _packet.Length;
            return CheckSize(_packet.Length) is var fault and not OscError.None ? Refuse(fault) : _packet;
        }

        while (_depth > 0 && _position == _ends[_depth - 1])
            _depth--;
        if (_depth == 0)
            return default;

        // A bundle's end is a multiple of four bytes away, as its elements' ends are: the size is there.
        var start = _position + ElementHeadSize;
        var size = BinaryPrimitives.ReadInt32BigEndian(_packet[_position..]);
        if (size < 0 || size > _ends[_depth - 1] - start)
            return Refuse(OscError.ElementOverrun);
        if (CheckSize(size) is var error and not OscError.None)
            return Refuse(error);

        _position = start + size;
        return _packet.Slice(start, size);
    }

    private ReadOnlySpan<byte> Refuse(OscError error)
    {
        Fail(error);
        return default;
    }

    private bool TryEnterBundle(ReadOnlySpan<byte> bundle)
    {
        if (bundle.Length < BundleHeadSize)
            return Fail(OscError.Truncated);
        if (!bundle.StartsWith("#bundle\0"u8))
            return Fail(OscError.BadBundleHead);
        if (_depth == MaxBundleDepth)
            return Fail(OscError.BundleTooDeep);

        var own = new OscTimeTag(BinaryPrimitives.ReadUInt64BigEndian(bundle[8..]));
        var enclosing = TimeTag;
        _timeTags[_depth] = own < enclosing ? enclosing : own;
        _ends[_depth] = _position;
        _depth++;
        _position -= bundle.Length - BundleHeadSize;
        return true;
    }

    private bool Fail(OscError error)
    {
        Note(error);
        _depth = 0;
        return false;
    }

    private void Note(OscError error)
    {
        if (Error == OscError.None)
            Error = error;
    }
}
