namespace TrimAssist.Protocols.Midi;

/// <summary>The parameter selected on one channel, and its value as far as it was sent since.</summary>
internal sealed class SelectedParameter
{
    private const int MaxValue = 0x3FFF;

    private MidiValueKind _kind;
    private byte? _upper;
    private byte? _lower;
    private int? _value;

    private int? Number => (_upper << 7) | _lower;

    public void Select(byte controller, byte half)
    {
        var kind = controller is MidiController.RegisteredLower or MidiController.RegisteredUpper ? MidiValueKind.Registered : MidiValueKind.NonRegistered;
        if (kind != _kind)
            Deselect();

        _kind = kind;
        _value = null;
        if (controller is MidiController.RegisteredUpper or MidiController.NonRegisteredUpper)
            _upper = half;
        else
            _lower = half;
    }

    public void Deselect()
    {
        _upper = null;
        _lower = null;
        _value = null;
    }

    public bool TryEnter(byte controller, byte data, int channel, out MidiValue value)
    {
        value = default;
        if (Number is not { } number || number == MidiController.NoParameter)
            return false;

        // A step or a lower half without the value before it is unknown, and stays so.
        _value = controller switch
        {
            MidiController.DataEntry => data << 7,
            MidiController.DataEntryLower => _value is { } upper ? (upper & ~0x7F) | data : null,
            MidiController.DataIncrement => _value is { } low ? Math.Min(low + 1, MaxValue) : null,
            _ => _value is { } high ? Math.Max(high - 1, 0) : null,
        };
        if (_value is not { } known)
            return false;

        value = new(_kind, channel, number, known);
        return true;
    }
}
