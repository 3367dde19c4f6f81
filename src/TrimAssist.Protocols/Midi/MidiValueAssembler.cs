namespace TrimAssist.Protocols.Midi;

/// <summary>Puts 14-bit controllers and (non-)registered parameters together from control changes, per channel. Takes every message; allocates nothing after construction.</summary>
/// <remarks>A new upper half answers at once with a lower half of 0, as MIDI 1.0 asks; the lower half then answers with the whole value, and says nothing where the upper half never came. Data for a parameter not wholly selected, or for none, is ignored.</remarks>
public sealed class MidiValueAssembler
{
    private const int Channels = 16;

    private readonly byte?[] _upperHalves = new byte?[Channels * MidiController.LowerHalfOffset];
    private readonly SelectedParameter[] _selected = [.. Enumerable.Range(0, Channels).Select(_ => new SelectedParameter())];

    /// <summary>Messages were lost: another parameter may be selected by now, and other upper halves may hold. A lower half says nothing until its upper one has come again.</summary>
    public void Forget()
    {
        Array.Clear(_upperHalves);
        foreach (var selected in _selected)
            selected.Deselect();
    }

    /// <summary>Takes a message; true when a value came of it.</summary>
    public bool TryTake(MidiMessage message, out MidiValue value)
    {
        value = default;
        if (message.Kind != MidiStatus.ControlChange || message.Channel is not { } channel)
            return false;

        var selected = _selected[channel - 1];
        switch (message.Data1)
        {
            case MidiController.DataEntry or MidiController.DataEntryLower or MidiController.DataIncrement or MidiController.DataDecrement:
                return selected.TryEnter(message.Data1, message.Data2, channel, out value);
            case >= MidiController.NonRegisteredLower and <= MidiController.RegisteredUpper:
                selected.Select(message.Data1, message.Data2);
                return false;
            case MidiController.ResetAll:
                selected.Deselect();
                return false;
            case < MidiController.LowerHalfOffset:
                _upperHalves[Index(channel, message.Data1)] = message.Data2;
                value = new(MidiValueKind.Controller, channel, message.Data1, message.Data2 << 7);
                return true;
            case < 2 * MidiController.LowerHalfOffset:
                var number = message.Data1 - MidiController.LowerHalfOffset;
                if (_upperHalves[Index(channel, number)] is not { } upper)
                    return false;
                value = new(MidiValueKind.Controller, channel, number, (upper << 7) | message.Data2);
                return true;
            default:
                return false;
        }
    }

    private static int Index(int channel, int controller) => ((channel - 1) * MidiController.LowerHalfOffset) + controller;
}
