namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Reads an RTP-MIDI command list (RFC 6295, sections 3.1 and 3.2); never throws, never allocates. The first fault sticks.</summary>
public ref struct RtpMidiCommandReader
{
    private ReadOnlySpan<byte> _rest;
    private bool _deltaNext;
    private byte _runningStatus;

    internal RtpMidiCommandReader(ReadOnlySpan<byte> list, bool hasFirstDelta)
    {
        _rest = list;
        _deltaNext = hasFirstDelta;
    }

    /// <summary>The first fault so far.</summary>
    public RtpMidiError Error { get; private set; }

    /// <summary>Reads the next command; false at the end of the list or at a fault.</summary>
    public bool TryRead(out RtpMidiCommand command)
    {
        command = default;
        uint delta = 0;
        if (_rest.IsEmpty || (_deltaNext && !TryReadDelta(out delta)))
            return false;

        // The last command may be empty: a delta time alone.
        _deltaNext = true;
        if (_rest.IsEmpty)
            return false;
        return _rest[0] is MidiStatus.Exclusive or MidiStatus.EndOfExclusive ? TryReadExclusive(delta, out command) : TryReadMessage(delta, out command);
    }

    private bool TryReadDelta(out uint delta)
    {
        if (!VariableLength.TryRead(_rest, out delta, out var length))
            return Fail(RtpMidiError.BadDeltaTime);

        _rest = _rest[length..];
        return true;
    }

    private bool TryReadMessage(uint delta, out RtpMidiCommand command)
    {
        command = default;
        var hasStatus = MidiStatus.IsStatus(_rest[0]);
        var status = hasStatus ? _rest[0] : _runningStatus;
        if (status == 0)
            return Fail(RtpMidiError.MissingStatus);

        var data = _rest[(hasStatus ? 1 : 0)..];
        var length = MidiStatus.DataLength(status);
        if (length < 0)
            return Fail(RtpMidiError.UndefinedStatus);
        if (data.Length < length || !MidiMessage.TryCreate(status, length > 0 ? data[0] : (byte)0, length > 1 ? data[1] : (byte)0, out var message))
            return Fail(RtpMidiError.BadData);

        if (!MidiStatus.IsRealTime(status))
            _runningStatus = MidiStatus.IsChannel(status) ? status : (byte)0;
        _rest = data[length..];
        command = new(delta, RtpMidiCommandKind.Message, message, data: default);
        return true;
    }

    // RFC 6295, section 3.2: F0 or F7 opens; F7 ends, F0 says more follows, F4 cancels, F5 stands for an end dropped at the source.
    private bool TryReadExclusive(uint delta, out RtpMidiCommand command)
    {
        command = default;
        var isFirst = _rest[0] == MidiStatus.Exclusive;
        var length = _rest[1..].IndexOfAnyInRange<byte>(0x80, MidiStatus.EndOfExclusive);
        if (length < 0)
            return Fail(RtpMidiError.OpenExclusive);

        var data = _rest.Slice(1, length);
        RtpMidiCommandKind kind;
        switch (_rest[length + 1])
        {
            case MidiStatus.EndOfExclusive or 0xF5:
                kind = isFirst ? RtpMidiCommandKind.WholeExclusive : RtpMidiCommandKind.LastSegment;
                break;
            case MidiStatus.Exclusive:
                kind = isFirst ? RtpMidiCommandKind.FirstSegment : RtpMidiCommandKind.MiddleSegment;
                break;
            case 0xF4:
                kind = RtpMidiCommandKind.CancelledExclusive;
                break;
            default:
                return Fail(RtpMidiError.OpenExclusive);
        }

        _runningStatus = 0;
        _rest = _rest[(length + 2)..];
        command = new(delta, kind, message: default, data);
        return true;
    }

    private bool Fail(RtpMidiError error)
    {
        if (Error == RtpMidiError.None)
            Error = error;
        _rest = default;
        return false;
    }
}
