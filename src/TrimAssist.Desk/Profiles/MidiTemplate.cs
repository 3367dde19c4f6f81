namespace TrimAssist.Desk.Profiles;

/// <summary>The kinds of MIDI message that can carry a value.</summary>
public enum MidiMessageKind
{
    /// <summary>A controller, 7 bits.</summary>
    Controller,

    /// <summary>A pair of controllers, 14 bits.</summary>
    Controller14,

    /// <summary>A non-registered parameter, 14 bits.</summary>
    Nrpn,

    /// <summary>A note and its velocity.</summary>
    Note,

    /// <summary>Polyphonic pressure, 7 bits.</summary>
    PolyPressure,

    /// <summary>A system exclusive message with places for input and value.</summary>
    SystemExclusive,
}

/// <summary>A number of a MIDI message: fixed, or the input's number with an offset.</summary>
/// <param name="PerInput">Whether the input's number counts.</param>
/// <param name="Offset">The fixed number, or what is added to the input's.</param>
public readonly record struct MidiNumber(bool PerInput, int Offset)
{
    /// <summary>The number for one input.</summary>
    public int For(int input) => PerInput ? input + Offset : Offset;
}

/// <summary>Where a value stands in MIDI.</summary>
/// <param name="Kind">The kind of message.</param>
/// <param name="Channel">The channel, 1 to 16.</param>
/// <param name="Number">The controller, parameter or note.</param>
/// <param name="Exclusive">The bytes of a system exclusive message, in hexadecimal with places in braces.</param>
/// <param name="Low">The value that means the lower end.</param>
/// <param name="High">The value that means the upper end.</param>
public sealed record MidiTemplate(MidiMessageKind Kind, MidiNumber Channel, MidiNumber Number, string? Exclusive, int Low, int High)
{
    /// <inheritdoc/>
    public override string ToString() => Exclusive ?? $"{Kind} {Number.Offset} on channel {Channel.Offset}";
}
