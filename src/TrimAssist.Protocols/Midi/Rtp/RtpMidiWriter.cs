namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Writes one RTP-MIDI packet without a recovery journal: header, then a list of commands each with its own status. Never throws; a command that does not fit is left out whole.</summary>
public ref struct RtpMidiWriter
{
    /// <summary>The longest command list, in octets (12 bits of length).</summary>
    public const int MaxListLength = 0x0FFF;

    private const int ShortListLength = 0x0F;
    private const int LongHeaderSize = 2;

    private readonly Span<byte> _buffer;
    private int _listLength;
    private bool _startsWithDelta;

    /// <summary>Begins a packet in <paramref name="buffer"/>.</summary>
    public RtpMidiWriter(Span<byte> buffer) => _buffer = buffer;

    private readonly Span<byte> Room
    {
        get
        {
            var start = RtpHeader.Size + LongHeaderSize + _listLength;
            return start > _buffer.Length ? default : _buffer.Slice(start, Math.Min(MaxListLength - _listLength, _buffer.Length - start));
        }
    }

    /// <summary>Adds a message.</summary>
    /// <param name="deltaTime">Media time since the command before, or since the packet's timestamp for the first.</param>
    /// <param name="message">The message.</param>
    public bool TryWrite(uint deltaTime, MidiMessage message)
    {
        var room = Room;
        return TryWriteDelta(deltaTime, room, out var delta) && message.TryWrite(room[delta..], out var length) && Take(deltaTime, delta + length);
    }

    /// <summary>Adds a whole system exclusive, F0 to F7; false also when it is not one.</summary>
    /// <param name="deltaTime">Media time since the command before, or since the packet's timestamp for the first.</param>
    /// <param name="exclusive">The message.</param>
    public bool TryWriteExclusive(uint deltaTime, scoped ReadOnlySpan<byte> exclusive)
    {
        var room = Room;
        return SystemExclusive.IsValid(exclusive)
            && TryWriteDelta(deltaTime, room, out var delta)
            && exclusive.TryCopyTo(room[delta..])
            && Take(deltaTime, delta + exclusive.Length);
    }

    /// <summary>Ends the packet; its marker says whether there are commands. False when not even the headers fit.</summary>
    public readonly bool TryFinish(RtpHeader header, out int length)
    {
        length = 0;
        if (_buffer.Length < RtpHeader.Size + LongHeaderSize || !(header with { Marker = _listLength > 0 }).TryWrite(_buffer))
            return false;

        var flags = _startsWithDelta ? RtpMidiPayload.FirstDeltaBit : 0;
        var list = _buffer.Slice(RtpHeader.Size + LongHeaderSize, _listLength);
        if (_listLength <= ShortListLength)
        {
            _buffer[RtpHeader.Size] = (byte)(flags | _listLength);
            list.CopyTo(_buffer[(RtpHeader.Size + 1)..]);
            length = RtpHeader.Size + 1 + _listLength;
            return true;
        }

        _buffer[RtpHeader.Size] = (byte)(RtpMidiPayload.LongHeader | flags | (_listLength >> 8));
        _buffer[RtpHeader.Size + 1] = (byte)_listLength;
        length = RtpHeader.Size + LongHeaderSize + _listLength;
        return true;
    }

    // A first command at the packet's own time goes without delta time.
    private readonly bool TryWriteDelta(uint deltaTime, Span<byte> room, out int length)
    {
        length = 0;
        return (_listLength == 0 && deltaTime == 0) || VariableLength.TryWrite(deltaTime, room, out length);
    }

    private bool Take(uint deltaTime, int length)
    {
        if (_listLength == 0)
            _startsWithDelta = deltaTime > 0;
        _listLength += length;
        return true;
    }
}
