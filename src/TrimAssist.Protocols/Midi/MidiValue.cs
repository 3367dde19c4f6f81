namespace TrimAssist.Protocols.Midi;

/// <summary>What a 14-bit value belongs to.</summary>
public enum MidiValueKind
{
    /// <summary>A pair of controllers: 0 to 31 with 32 to 63.</summary>
    Controller,

    /// <summary>A registered parameter.</summary>
    Registered,

    /// <summary>A non-registered parameter.</summary>
    NonRegistered,
}

/// <summary>A 14-bit value put together from control changes.</summary>
/// <param name="Kind">What it belongs to.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Number">The upper half's controller, 0 to 31, or the parameter, 0 to 16382.</param>
/// <param name="Value">0 to 16383: 128 times the upper half and the lower half; the lower half counts as 0 until it comes.</param>
public readonly record struct MidiValue(MidiValueKind Kind, int Channel, int Number, int Value);
