namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>What a command of the list is.</summary>
public enum RtpMidiCommandKind
{
    /// <summary>A message of at most three bytes.</summary>
    Message,

    /// <summary>A whole system exclusive: F0 to F7.</summary>
    WholeExclusive,

    /// <summary>The first part of a system exclusive: F0 to F0.</summary>
    FirstSegment,

    /// <summary>A middle part: F7 to F0.</summary>
    MiddleSegment,

    /// <summary>The last part: F7 to F7.</summary>
    LastSegment,

    /// <summary>The system exclusive begun earlier is not sent on: F7 to F4.</summary>
    CancelledExclusive,
}

/// <summary>One command of an RTP-MIDI list, in place.</summary>
public readonly ref struct RtpMidiCommand
{
    internal RtpMidiCommand(uint deltaTime, RtpMidiCommandKind kind, MidiMessage message, ReadOnlySpan<byte> data)
    {
        DeltaTime = deltaTime;
        Kind = kind;
        Message = message;
        Data = data;
    }

    /// <summary>Media time since the command before, or since the packet's timestamp for the first.</summary>
    public uint DeltaTime { get; }

    /// <summary>What the command is.</summary>
    public RtpMidiCommandKind Kind { get; }

    /// <summary>The message, its running status filled in; the default for system exclusive.</summary>
    public MidiMessage Message { get; }

    /// <summary>The data bytes of a system exclusive or its part, without the octets that bound it; real-time octets may stand among them.</summary>
    public ReadOnlySpan<byte> Data { get; }
}
