using TrimAssist.Core.Meters;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles;

/// <summary>What a meter source measures.</summary>
public enum MeterQuantity
{
    /// <summary>The highest sample magnitude of a frame.</summary>
    Peak,

    /// <summary>The RMS level of a frame.</summary>
    Rms,

    /// <summary>A flag: the converter was driven over.</summary>
    Overload,
}

/// <summary>How a message carries the values of a source.</summary>
public enum MeterPacking
{
    /// <summary>One value a message; the address names the input or socket.</summary>
    OneInput,

    /// <summary>One blob for many inputs.</summary>
    Blob,

    /// <summary>One argument an input.</summary>
    Arguments,
}

/// <summary>The number type inside a blob.</summary>
public enum MeterElement
{
    /// <summary>IEEE 754, 4 bytes.</summary>
    Real32,

    /// <summary>Signed, 2 bytes.</summary>
    Whole16,

    /// <summary>Signed, 4 bytes.</summary>
    Whole32,
}

/// <summary>One source of meter values (or overload flags).</summary>
public sealed record MeterProfile
{
    /// <summary>The address of its messages; <see langword="null"/> over MIDI.</summary>
    public AddressTemplate? Address { get; init; }

    /// <summary>Where the values stand over MIDI; <see langword="null"/> over OSC.</summary>
    public MidiTemplate? Midi { get; init; }

    /// <summary>What is measured.</summary>
    public required MeterQuantity Quantity { get; init; }

    /// <summary>What the values mean.</summary>
    public required LevelScale Scale { get; init; }

    /// <summary>How the values are carried.</summary>
    public required MeterPacking Packing { get; init; }

    /// <summary>Index of the argument that holds the value, the blob, or the first of the values.</summary>
    public int Argument { get; init; }

    /// <summary>The number type inside a blob.</summary>
    public MeterElement Element { get; init; }

    /// <summary>Whether a blob's numbers are least significant byte first.</summary>
    public bool LittleEndian { get; init; }

    /// <summary>Bytes of a blob before its first element.</summary>
    public int SkipBytes { get; init; }

    /// <summary>The input of the first element.</summary>
    public int FirstInput { get; init; } = 1;

    /// <summary>Number of inputs in one message.</summary>
    public int Count { get; init; }

    /// <summary>Length and manners of a frame.</summary>
    public required MeterTraits Traits { get; init; }

    /// <summary>The address or MIDI template as text.</summary>
    public string Name => Address?.Text ?? Midi?.ToString() ?? string.Empty;

    /// <summary>The inputs that this source speaks of, among <paramref name="inputs"/> of the desk.</summary>
    public IEnumerable<int> CoveredInputs(int inputs) =>
        Packing == MeterPacking.OneInput ? Enumerable.Range(1, inputs) : Enumerable.Range(FirstInput, Count);
}
