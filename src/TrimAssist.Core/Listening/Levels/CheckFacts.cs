namespace TrimAssist.Core.Listening.Levels;

/// <summary>What was counted frame by frame during a check.</summary>
/// <param name="FullScaleDbfs">Full scale at the tap.</param>
/// <param name="Overloads">Overloads at the converter.</param>
/// <param name="Standstills">How often the meter got stuck.</param>
internal readonly record struct CheckFacts(double FullScaleDbfs, int Overloads, int Standstills);
