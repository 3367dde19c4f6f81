namespace TrimAssist.Protocols.Midi;

/// <summary>One MIDI 1.0 message of at most three bytes; data bytes not used by its status are zero.</summary>
public readonly record struct MidiMessage
{
    private MidiMessage(byte status, byte data1, byte data2)
    {
        Status = status;
        Data1 = data1;
        Data2 = data2;
    }

    /// <summary>The status byte, channel included.</summary>
    public byte Status { get; }

    /// <summary>The first data byte, 0 to 127.</summary>
    public byte Data1 { get; }

    /// <summary>The second data byte, 0 to 127.</summary>
    public byte Data2 { get; }

    /// <summary>The status without its channel; for system messages the status itself.</summary>
    public byte Kind => MidiStatus.IsChannel(Status) ? (byte)(Status & 0xF0) : Status;

    /// <summary>The channel, 1 to 16; null for system messages.</summary>
    public int? Channel => MidiStatus.IsChannel(Status) ? (Status & 0x0F) + 1 : null;

    /// <summary>Bytes on the wire with status: 1 to 3; 0 for the default of this type, which is no message.</summary>
    public int Length => Status == 0 ? 0 : MidiStatus.DataLength(Status) + 1;

    /// <summary>Whether this is a note on that sounds; velocity 0 means note off.</summary>
    public bool IsNoteOn => Kind == MidiStatus.NoteOn && Data2 > 0;

    /// <summary>Whether this ends a note: a note off, or a note on of velocity 0.</summary>
    public bool IsNoteOff => Kind == MidiStatus.NoteOff || (Kind == MidiStatus.NoteOn && Data2 == 0);

    /// <summary>The two data bytes as 14 bits, lower seven first, as pitch bend and song position send them.</summary>
    public int Value14 => Data1 | (Data2 << 7);

    /// <summary>A message from its bytes; false unless the status is defined, takes at most two data bytes and these are below 128. Unused data must be 0.</summary>
    public static bool TryCreate(byte status, byte data1, byte data2, out MidiMessage message)
    {
        var data = MidiStatus.DataLength(status);
        var isValid = data >= 0 && (data1 | data2) < 0x80 && (data > 0 || data1 == 0) && (data > 1 || data2 == 0);
        message = isValid ? new(status, data1, data2) : default;
        return isValid;
    }

    /// <summary>A control change.</summary>
    /// <param name="channel">1 to 16.</param>
    /// <param name="controller">0 to 127.</param>
    /// <param name="value">0 to 127.</param>
    public static MidiMessage ControlChange(int channel, int controller, int value) => OnChannel(MidiStatus.ControlChange, channel, controller, value);

    /// <summary>A note on; velocity 0 ends the note.</summary>
    /// <param name="channel">1 to 16.</param>
    /// <param name="note">0 to 127.</param>
    /// <param name="velocity">0 to 127.</param>
    public static MidiMessage NoteOn(int channel, int note, int velocity) => OnChannel(MidiStatus.NoteOn, channel, note, velocity);

    /// <summary>A note off.</summary>
    /// <param name="channel">1 to 16.</param>
    /// <param name="note">0 to 127.</param>
    /// <param name="velocity">0 to 127.</param>
    public static MidiMessage NoteOff(int channel, int note, int velocity) => OnChannel(MidiStatus.NoteOff, channel, note, velocity);

    /// <summary>A program change.</summary>
    /// <param name="channel">1 to 16.</param>
    /// <param name="program">0 to 127.</param>
    public static MidiMessage ProgramChange(int channel, int program) => OnChannel(MidiStatus.ProgramChange, channel, program, 0);

    /// <summary>A pitch bend.</summary>
    /// <param name="channel">1 to 16.</param>
    /// <param name="value">0 to 16383; 8192 is the centre.</param>
    public static MidiMessage PitchBend(int channel, int value)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)value, 0x3FFFU, nameof(value));
        return OnChannel(MidiStatus.PitchBend, channel, value & 0x7F, value >> 7);
    }

    /// <summary>Copies the bytes, status first; false when there is no room or this is no message.</summary>
    public bool TryWrite(Span<byte> destination, out int written)
    {
        written = 0;
        if (Length == 0 || destination.Length < Length)
            return false;

        written = Length;
        destination[0] = Status;
        if (written > 1)
            destination[1] = Data1;
        if (written > 2)
            destination[2] = Data2;
        return true;
    }

    /// <inheritdoc/>
    public override string ToString() => Length switch
    {
        0 => "none",
        1 => $"{Status:X2}",
        2 => $"{Status:X2} {Data1:X2}",
        _ => $"{Status:X2} {Data1:X2} {Data2:X2}",
    };

    private static MidiMessage OnChannel(byte kind, int channel, int data1, int data2)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(channel, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(channel, 16);
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)data1, 0x7FU, nameof(data1));
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)data2, 0x7FU, nameof(data2));
        return new((byte)(kind | (channel - 1)), (byte)data1, (byte)data2);
    }
}
