namespace TrimAssist.Protocols.Midi;

/// <summary>Status bytes of MIDI 1.0 (Detailed Specification 96.1, tables of status bytes); a channel message's lower four bits are its channel less one.</summary>
public static class MidiStatus
{
    /// <summary>Note off: note, velocity.</summary>
    public const byte NoteOff = 0x80;

    /// <summary>Note on: note, velocity; velocity 0 is a note off.</summary>
    public const byte NoteOn = 0x90;

    /// <summary>Pressure of one key: note, pressure.</summary>
    public const byte KeyPressure = 0xA0;

    /// <summary>Control change: controller, value.</summary>
    public const byte ControlChange = 0xB0;

    /// <summary>Program change: program.</summary>
    public const byte ProgramChange = 0xC0;

    /// <summary>Pressure of the channel: pressure.</summary>
    public const byte ChannelPressure = 0xD0;

    /// <summary>Pitch bend: lower, then upper seven bits.</summary>
    public const byte PitchBend = 0xE0;

    /// <summary>Start of a system exclusive message.</summary>
    public const byte Exclusive = 0xF0;

    /// <summary>Time code quarter frame: one byte.</summary>
    public const byte QuarterFrame = 0xF1;

    /// <summary>Song position: lower, then upper seven bits.</summary>
    public const byte SongPosition = 0xF2;

    /// <summary>Song select: one byte.</summary>
    public const byte SongSelect = 0xF3;

    /// <summary>Tune request.</summary>
    public const byte TuneRequest = 0xF6;

    /// <summary>End of a system exclusive message.</summary>
    public const byte EndOfExclusive = 0xF7;

    /// <summary>The first real-time status: timing clock.</summary>
    public const byte TimingClock = 0xF8;

    /// <summary>Active sensing: sent at most 300 ms apart.</summary>
    public const byte ActiveSensing = 0xFE;

    /// <summary>Reset.</summary>
    public const byte Reset = 0xFF;

    internal const int Undefined = -1;
    internal const int Variable = -2;

    /// <summary>Whether a byte is a status rather than data.</summary>
    public static bool IsStatus(byte value) => value >= 0x80;

    /// <summary>Whether a status belongs to a channel.</summary>
    public static bool IsChannel(byte status) => status is >= NoteOff and < Exclusive;

    /// <summary>Whether a status may stand inside any other message.</summary>
    public static bool IsRealTime(byte status) => status >= TimingClock;

    /// <summary>How many data bytes follow a status; <see cref="Variable"/> or <see cref="Undefined"/> where no number does.</summary>
    internal static int DataLength(byte status) => status switch
    {
        < NoteOff => Undefined,
        >= ProgramChange and < PitchBend => 1,
        < Exclusive => 2,
        Exclusive or EndOfExclusive => Variable,
        QuarterFrame or SongSelect => 1,
        SongPosition => 2,
        0xF4 or 0xF5 or 0xF9 or 0xFD => Undefined,
        _ => 0,
    };
}
