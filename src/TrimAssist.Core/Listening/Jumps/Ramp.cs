namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Turns a measure into evidence between 0 and 1.</summary>
internal static class Ramp
{
    /// <summary>0 at <paramref name="from"/>, 1 at <paramref name="to"/>, straight between, level beyond.</summary>
    public static float Of(float value, float from, float to) => Math.Clamp((value - from) / (to - from), 0, 1);
}
