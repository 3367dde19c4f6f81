using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace TrimAssist.Protocols.Osc;

/// <summary>Writes one OSC packet, a message or a bundle, into the caller's buffer; never throws, never allocates. The first fault sticks.</summary>
/// <remarks>A message names its type tags when it begins and then takes exactly those arguments. What was written counts only when <see cref="TryFinish"/> answers true.</remarks>
public ref partial struct OscWriter
{
    private readonly Span<byte> _buffer;
    private InlineArray8<int> _starts;
    private int _depth;
    private int _position;
    private int _messageStart;
    private ReadOnlySpan<byte> _tagsLeft;
    private bool _inMessage;

    /// <summary>Begins a packet in <paramref name="buffer"/>.</summary>
    public OscWriter(Span<byte> buffer) => _buffer = buffer;

    /// <summary>The first fault so far.</summary>
    public OscWriteError Error { get; private set; }

    /// <summary>Begins a bundle, inside the open one if there is one.</summary>
    public void BeginBundle(OscTimeTag timeTag)
    {
        if (_depth == OscPacketReader.MaxBundleDepth)
            Fail(OscWriteError.BundleTooDeep);
        if (!TryBeginElement(out var start))
            return;

        _starts[_depth++] = start;
        PutBytes("#bundle\0"u8);
        PutDoubleWord(timeTag.Value);
    }

    /// <summary>Ends the innermost bundle.</summary>
    public void EndBundle()
    {
        if (_depth == 0 || _inMessage)
        {
            Fail(OscWriteError.OutOfTurn);
            return;
        }

        _depth--;
        EndElement(_starts[_depth]);
    }

    /// <summary>Begins a message whose arguments will be of the types in <paramref name="typeTags"/>, given without the comma; <c>T F N I</c> and brackets need no further call.</summary>
    public void BeginMessage(ReadOnlySpan<byte> address, ReadOnlySpan<byte> typeTags)
    {
        if (address.IsEmpty || address[0] != (byte)'/' || address.Contains((byte)0))
            Fail(OscWriteError.BadAddress);
        if (!AreValid(typeTags))
            Fail(OscWriteError.BadTypeTags);
        if (!TryBeginElement(out _messageStart))
            return;

        PutString(address);
        PutTypeTags(typeTags);
        _tagsLeft = typeTags;
        _inMessage = true;
        PassTagsWithoutBytes();
    }

    /// <summary>Ends the message; every argument must have been written.</summary>
    public void EndMessage()
    {
        if (!_inMessage)
            Fail(OscWriteError.OutOfTurn);
        if (!_tagsLeft.IsEmpty)
            Fail(OscWriteError.ArgumentMismatch);
        if (Error != OscWriteError.None)
            return;

        _inMessage = false;
        EndElement(_messageStart);
    }

    /// <summary>Ends the packet; false with <see cref="Error"/> when a fault occurred or something is still open.</summary>
    public bool TryFinish(out int length)
    {
        if (_depth > 0 || _inMessage || _position == 0)
            Fail(OscWriteError.OutOfTurn);

        length = Error == OscWriteError.None ? _position : 0;
        return Error == OscWriteError.None;
    }

    private static bool AreValid(ReadOnlySpan<byte> typeTags)
    {
        var openArrays = 0;
        foreach (var tag in typeTags)
        {
            openArrays += tag == OscTypeTag.ArrayStart ? 1 : tag == OscTypeTag.ArrayEnd ? -1 : 0;
            if (openArrays < 0 || OscTypeTag.SizeOf(tag) == OscTypeTag.UnknownSize)
                return false;
        }

        return openArrays == 0;
    }

    // OSC 1.0, "OSC Bundles": an element inside a bundle follows its size; a packet holds one element.
    private bool TryBeginElement(out int start)
    {
        if (_inMessage || (_depth == 0 && _position > 0))
            Fail(OscWriteError.OutOfTurn);
        if (_depth > 0)
            PutWord(0);

        start = _position;
        return Error == OscWriteError.None;
    }

    private readonly void EndElement(int start)
    {
        if (Error == OscWriteError.None && _depth > 0)
            BinaryPrimitives.WriteInt32BigEndian(_buffer[(start - sizeof(int))..], _position - start);
    }

    private void Fail(OscWriteError error)
    {
        if (Error == OscWriteError.None)
            Error = error;
    }
}
