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

    private readonly ReadOnlySpan<byte> _packet;
    private InlineArray8<int> _ends;
    private InlineArray8<OscTimeTag> _timeTags;
    private int _depth;
    private int _position;
    private bool _started;

    /// <summary>Begins to read a packet: one datagram, or one frame of a stream.</summary>
    public OscPacketReader(ReadOnlySpan<byte> packet) => _packet = packet;

    /// <summary>The first fault met so far.</summary>
    public OscError Error { get; private set; }

    /// <summary>Messages left out for an unknown type tag.</summary>
    public int DiscardedMessages { get; private set; }

    // OSC 1.0, "Temporal Semantics": an enclosed bundle may not be earlier than its enclosing one.
    private readonly OscTimeTag TimeTag => _depth == 0 ? OscTimeTag.Immediate : _timeTags[_depth - 1];

    /// <summary>Finds the next well-formed message; false at the end of the packet or at a fault.</summary>
    public bool TryReadMessage(out OscMessageReader message)
    {
        while (TryReadElement(out var start, out var end))
        {
            if (_packet[start] == (byte)'#')
            {
                if (!TryEnterBundle(start, end))
                    break;
                continue;
            }

            var error = OscMessageReader.Open(_packet[start..end], TimeTag, out message);
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

    /// <summary>What is wrong with a packet or element of this many bytes.</summary>
    internal static OscError CheckSize(int size)
        => size == 0 ? OscError.Empty : (size & 3) != 0 ? OscError.Unaligned : OscError.None;

    private bool TryReadElement(out int start, out int end)
    {
        if (!_started)
        {
            _started = true;
            start = 0;
            end = _packet.Length;
            _position = end;
            return CheckSize(end) is var error && (error == OscError.None || Fail(error));
        }

        while (_depth > 0 && _position == _ends[_depth - 1])
            _depth--;
        if (_depth == 0)
        {
            start = end = 0;
            return false;
        }

        return TryReadElementHead(_ends[_depth - 1], out start, out end);
    }

    private bool TryReadElementHead(int limit, out int start, out int end)
    {
        start = _position + ElementHeadSize;
        end = start;
        var size = BinaryPrimitives.ReadInt32BigEndian(_packet[_position..]);
        if (size < 0 || size > limit - start)
            return Fail(OscError.ElementOverrun);
        if (CheckSize(size) is var error && error != OscError.None)
            return Fail(error);

        end = start + size;
        _position = end;
        return true;
    }

    private bool TryEnterBundle(int start, int end)
    {
        if (end - start < BundleHeadSize)
            return Fail(OscError.Truncated);
        if (!_packet[start..].StartsWith("#bundle\0"u8))
            return Fail(OscError.BadBundleHead);
        if (_depth == MaxBundleDepth)
            return Fail(OscError.BundleTooDeep);

        var own = new OscTimeTag(BinaryPrimitives.ReadUInt64BigEndian(_packet[(start + 8)..]));
        var enclosing = TimeTag;
        _timeTags[_depth] = own < enclosing ? enclosing : own;
        _ends[_depth] = end;
        _depth++;
        _position = start + BundleHeadSize;
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
