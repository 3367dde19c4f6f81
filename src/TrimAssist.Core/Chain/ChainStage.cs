using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>One stage of a signal chain: a pedal, an amplifier, a DI, a preamp, a converter.</summary>
public sealed record ChainStage
{
    /// <summary>What the engineer calls it.</summary>
    public required string Name { get; init; }

    /// <summary>The lowest setting of its gain; the settings are counted from here.</summary>
    public required Decibels MinGain { get; init; }

    /// <summary>The highest setting of its gain; equal to the lowest where nothing can be turned.</summary>
    public required Decibels MaxGain { get; init; }

    /// <summary>The distance between two settings; above 0 where anything can be turned.</summary>
    public required Decibels Step { get; init; }

    /// <summary>Today's setting; <see langword="null"/> where nobody knows.</summary>
    public Decibels? Now { get; init; }

    /// <summary>What its pad takes off, before everything else in the stage; <see langword="null"/> where it has none.</summary>
    public Decibels? Pad { get; init; }

    /// <summary>Whether the pad is in today.</summary>
    public bool PadInNow { get; init; }

    /// <summary>The highest peak that its input takes with the pad out; <see langword="null"/> for no known limit.</summary>
    public Dbu? MaxIn { get; init; }

    /// <summary>The highest peak that its output gives; <see langword="null"/> for no known limit.</summary>
    public Dbu? MaxOut { get; init; }

    /// <summary>Whether it is the desk's trim: its setting and its pad are then the desk's to tell.</summary>
    public bool IsDeskTrim { get; init; }

    /// <summary>The noise that it adds; <see langword="null"/> for none worth counting.</summary>
    public StageNoise? Noise { get; init; }

    /// <summary>Today's setting and pad; a stage that cannot be turned is where it is.</summary>
    public StageSetting? Today => Now is { } now ? new StageSetting(now, PadInNow) : MinGain == MaxGain ? new StageSetting(MinGain, PadInNow) : null;
}

/// <summary>How one stage is set.</summary>
/// <param name="Gain">Its gain, the pad not counted.</param>
/// <param name="PadIn">Whether its pad is in.</param>
public readonly record struct StageSetting(Decibels Gain, bool PadIn);
