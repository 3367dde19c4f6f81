using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Desks;

/// <summary>What a desk's profile lets the domain know: never an address, never a wire format.</summary>
public sealed record DeskDescription
{
    /// <summary>The desk's id, as in URLs.</summary>
    public required string Id { get; init; }

    /// <summary>The desk's name.</summary>
    public required string Name { get; init; }

    /// <summary>Number of inputs.</summary>
    public required int Inputs { get; init; }

    /// <summary>How the meters behave.</summary>
    public required MeterTraits Meter { get; init; }

    /// <summary>The trim control; <see langword="null"/> where the profile has none.</summary>
    public TrimControl? Trim { get; init; }

    /// <summary>The pad control; <see langword="null"/> where the profile has none.</summary>
    public PadControl? Pad { get; init; }

    /// <summary>The mute control; <see langword="null"/> where the profile has none.</summary>
    public MuteControl? Mute { get; init; }

    /// <summary>Whether the profile can tell where an input's fader stands.</summary>
    public bool FaderReadable { get; init; }

    /// <summary>The gain before an input's meter: its trim, less a pad that is in; <see langword="null"/> where the desk has not told the trim.</summary>
    public double? GainDb(InputSettings settings) => settings?.Trim is { } trim ? trim.Value - (settings.PadOn is true ? Pad?.PadDb ?? 0 : 0) : null;
}

/// <summary>A trim: its range and steps in dB, and who else hears it.</summary>
/// <param name="MinDb">Lowest setting.</param>
/// <param name="MaxDb">Highest setting.</param>
/// <param name="StepDb">Distance between settings.</param>
/// <param name="ToleranceDb">How far a read-back may lie off and still count as taken.</param>
/// <param name="Digital">Whether the gain is digital: it never cures a clipped converter.</param>
/// <param name="SharedWith">Who else hears this preamp: monitors, another desk, a recording.</param>
public sealed record TrimControl(double MinDb, double MaxDb, double StepDb, double ToleranceDb, bool Digital, IReadOnlyList<string> SharedWith);

/// <summary>A pad.</summary>
/// <param name="PadDb">How much it takes away, in dB.</param>
/// <param name="SharedWith">Who else hears this preamp.</param>
public sealed record PadControl(double PadDb, IReadOnlyList<string> SharedWith);

/// <summary>A mute.</summary>
/// <param name="Covers">What it closes: main, sends, direct.</param>
public sealed record MuteControl(IReadOnlyList<string> Covers);
