namespace TrimAssist.Core.Meters;

/// <summary>What a desk's meter said about one input in one frame.</summary>
/// <param name="Input">The desk input, from 1.</param>
/// <param name="TimeS">The end of the frame in seconds since the session began; never runs backwards for one input.</param>
/// <param name="PeakDbfs">The frame's peak in dBFS; NaN where the desk sends none, −∞ for digital silence.</param>
/// <param name="RmsDbfs">The frame's RMS in dBFS after AES17; NaN where the desk sends none.</param>
/// <remarks>Plain floats because this is the hot path: a reading is made, heard and forgotten without allocation.</remarks>
public readonly record struct MeterReading(int Input, double TimeS, float PeakDbfs, float RmsDbfs);
