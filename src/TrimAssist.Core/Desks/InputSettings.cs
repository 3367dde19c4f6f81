using TrimAssist.Core.Units;

namespace TrimAssist.Core.Desks;

/// <summary>What the desk last said about one input. <see langword="null"/> means that it has not said.</summary>
public sealed record InputSettings
{
    /// <summary>The input's number on the desk, from 1.</summary>
    public required int Input { get; init; }

    /// <summary>The input's name on the desk.</summary>
    public string? Label { get; init; }

    /// <summary>The socket that feeds the input.</summary>
    public string? Socket { get; init; }

    /// <summary>The other half of a linked pair.</summary>
    public int? LinkedTo { get; init; }

    /// <summary>The trim in dB.</summary>
    public Decibels? Trim { get; init; }

    /// <summary>Whether the pad is in.</summary>
    public bool? PadOn { get; init; }

    /// <summary>Whether phantom power is on.</summary>
    public bool? PhantomOn { get; init; }

    /// <summary>Whether the input's own mute is on.</summary>
    public bool? Muted { get; init; }

    /// <summary>The fader in dB; −∞ when it is down.</summary>
    public double? FaderDb { get; init; }
}
