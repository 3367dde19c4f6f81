namespace TrimAssist.Protocols.Midi;

/// <summary>Controller numbers of MIDI 1.0 (Table III) that carry a value's halves and select parameters.</summary>
public static class MidiController
{
    /// <summary>Upper seven bits of the selected parameter.</summary>
    public const byte DataEntry = 6;

    /// <summary>From an upper half's controller, 0 to 31, to that of its lower half.</summary>
    public const byte LowerHalfOffset = 32;

    /// <summary>Lower seven bits of the selected parameter.</summary>
    public const byte DataEntryLower = DataEntry + LowerHalfOffset;

    /// <summary>Adds one to the selected parameter; its value byte says nothing.</summary>
    public const byte DataIncrement = 96;

    /// <summary>Takes one off the selected parameter; its value byte says nothing.</summary>
    public const byte DataDecrement = 97;

    /// <summary>Selects a non-registered parameter, lower seven bits.</summary>
    public const byte NonRegisteredLower = 98;

    /// <summary>Selects a non-registered parameter, upper seven bits.</summary>
    public const byte NonRegisteredUpper = 99;

    /// <summary>Selects a registered parameter, lower seven bits.</summary>
    public const byte RegisteredLower = 100;

    /// <summary>Selects a registered parameter, upper seven bits.</summary>
    public const byte RegisteredUpper = 101;

    /// <summary>Resets all controllers; also deselects the parameter (MIDI Association RP-015, from memory).</summary>
    public const byte ResetAll = 121;

    /// <summary>The parameter number that means "none selected".</summary>
    public const int NoParameter = 0x3FFF;

    /// <summary>Whether a controller selects parameters or carries their data.</summary>
    public static bool IsOfParameter(int controller) => controller is DataEntry or DataEntryLower or (>= DataIncrement and <= RegisteredUpper);
}
