namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What an input's meter said in one pooled frame.</summary>
/// <param name="Number">The frame's number by the desk's clock.</param>
/// <param name="TimeS">Its end in the readings' time.</param>
/// <param name="PeakDbfs">Its peak.</param>
/// <param name="RmsDbfs">Its RMS; NaN where the desk sends none.</param>
internal readonly record struct PooledFrame(long Number, double TimeS, float PeakDbfs, float RmsDbfs);
