namespace TrimAssist.Protocols.Midi;

/// <summary>Writes messages one after another into the caller's buffer, leaving out a status that repeats when asked to. Never throws; a message that does not fit is not begun.</summary>
public ref struct MidiWriter
{
    private readonly Span<byte> _buffer;
    private readonly bool _runningStatus;
    private byte _lastStatus;

    /// <summary>Begins at the start of <paramref name="buffer"/>.</summary>
    public MidiWriter(Span<byte> buffer, bool runningStatus = false)
    {
        _buffer = buffer;
        _runningStatus = runningStatus;
    }

    /// <summary>Bytes written so far.</summary>
    public int Length { get; private set; }

    /// <summary>Adds a message; false when it does not fit or is none.</summary>
    public bool TryWrite(MidiMessage message)
    {
        Span<byte> bytes = stackalloc byte[3];
        if (!message.TryWrite(bytes, out var length))
            return false;

        var repeats = _runningStatus && message.Status == _lastStatus;
        if (!TryPut(bytes[(repeats ? 1 : 0)..length]))
            return false;

        if (!MidiStatus.IsRealTime(message.Status))
            _lastStatus = MidiStatus.IsChannel(message.Status) ? message.Status : (byte)0;
        return true;
    }

    /// <summary>Adds a system exclusive message with its F0 and F7; false when it does not fit or is not one.</summary>
    public bool TryWriteExclusive(scoped ReadOnlySpan<byte> exclusive)
    {
        if (!SystemExclusive.IsValid(exclusive) || !TryPut(exclusive))
            return false;

        _lastStatus = 0;
        return true;
    }

    private bool TryPut(scoped ReadOnlySpan<byte> bytes)
    {
        if (!bytes.TryCopyTo(_buffer[Length..]))
            return false;

        Length += bytes.Length;
        return true;
    }
}
