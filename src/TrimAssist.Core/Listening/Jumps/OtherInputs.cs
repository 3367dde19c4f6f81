namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What the other inputs of the desk did while one rose.</summary>
/// <param name="RiseDb">The sum of their rises in the same frame or next to it.</param>
/// <param name="Rises">How many rises they made there.</param>
/// <param name="Spill">How much the one most like it did the same, 0 to 1.</param>
internal readonly record struct OtherInputs(float RiseDb, int Rises, float Spill);
