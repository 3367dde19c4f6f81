using TrimAssist.Core.Advice;
using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Assist;

/// <summary>Whether an input is played.</summary>
public enum Activity
{
    /// <summary>Nothing has been heard, or the meters are stale.</summary>
    Unknown,

    /// <summary>Only its noise.</summary>
    Silent,

    /// <summary>Playing.</summary>
    Playing,
}

/// <summary>One input as it stands now. Levels are dBFS; <see langword="null"/> where nothing is known.</summary>
/// <param name="Settings">What the desk last said.</param>
/// <param name="PeakDbfs">The last frame's peak.</param>
/// <param name="RmsDbfs">The last frame's RMS.</param>
/// <param name="HeldPeakDbfs">Highest peak since the listening began, artefacts excluded.</param>
/// <param name="LoudestPassageDbfs">Level of the loudest passage.</param>
/// <param name="NoiseFloorDbfs">Noise floor.</param>
/// <param name="PredictedDbfs">The show's peak as predicted so far: low, middle, high.</param>
/// <param name="Activity">Whether it is played.</param>
public sealed record LiveInput(
    InputSettings Settings,
    double? PeakDbfs,
    double? RmsDbfs,
    double? HeldPeakDbfs,
    double? LoudestPassageDbfs,
    double? NoiseFloorDbfs,
    (double Low, double Middle, double High)? PredictedDbfs,
    Activity Activity)
{
    /// <summary>What the evidence says about its chain.</summary>
    public StageAdvice? Advice { get; init; }
}
