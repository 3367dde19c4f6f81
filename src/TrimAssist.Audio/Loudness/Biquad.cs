namespace TrimAssist.Audio.Loudness;

/// <summary>A second-order filter: y[n] = B0·x[n] + B1·x[n−1] + B2·x[n−2] − A1·y[n−1] − A2·y[n−2].</summary>
/// <param name="B0">Weight of the sample.</param>
/// <param name="B1">Weight of the sample before.</param>
/// <param name="B2">Weight of the sample before that.</param>
/// <param name="A1">Weight of the last output.</param>
/// <param name="A2">Weight of the output before.</param>
public readonly record struct Biquad(double B0, double B1, double B2, double A1, double A2);
