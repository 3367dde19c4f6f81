namespace TrimAssist.Core.Listening;

/// <summary>What an input's meters said while its gain stood at one setting: two of them tell what moves with the gain and what does not.</summary>
/// <param name="GainDb">The gain before the tap: trim, less the pad where it is in.</param>
/// <param name="FloorDbfs">The steady level of its rests; <see langword="null"/> where it never rested or its rests were not steady.</param>
/// <param name="PlateauDbfs">Where its peaks pile up below full scale; <see langword="null"/> where they do not.</param>
public sealed record GainStretch(double GainDb, double? FloorDbfs, double? PlateauDbfs);
