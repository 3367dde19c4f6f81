namespace TrimAssist.Protocols.Midi;

/// <summary>Turns 14-bit values into the control changes that send them.</summary>
public static class MidiValueEncoder
{
    /// <summary>Control changes a value takes at most.</summary>
    public const int MaxMessages = 4;

    /// <summary>Writes the control changes of a value in the order MIDI 1.0 gives them; answers how many.</summary>
    /// <param name="value">The value to send.</param>
    /// <param name="messages">Takes at least <see cref="MaxMessages"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static int Encode(MidiValue value, Span<MidiMessage> messages)
    {
        var maxNumber = value.Kind == MidiValueKind.Controller ? MidiController.LowerHalfOffset - 1 : MidiController.NoParameter - 1;
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)value.Number, (uint)maxNumber, nameof(value));
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)value.Value, 0x3FFFU, nameof(value));
        ArgumentOutOfRangeException.ThrowIfLessThan(messages.Length, MaxMessages, nameof(messages));

        var count = 0;
        var controller = value.Number;
        if (value.Kind != MidiValueKind.Controller)
        {
            var registered = value.Kind == MidiValueKind.Registered;
            messages[count++] = MidiMessage.ControlChange(value.Channel, registered ? MidiController.RegisteredUpper : MidiController.NonRegisteredUpper, value.Number >> 7);
            messages[count++] = MidiMessage.ControlChange(value.Channel, registered ? MidiController.RegisteredLower : MidiController.NonRegisteredLower, value.Number & 0x7F);
            controller = MidiController.DataEntry;
        }

        messages[count++] = MidiMessage.ControlChange(value.Channel, controller, value.Value >> 7);
        messages[count++] = MidiMessage.ControlChange(value.Channel, controller + MidiController.LowerHalfOffset, value.Value & 0x7F);
        return count;
    }
}
