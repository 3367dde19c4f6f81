namespace TrimAssist.Audio.Tests.Levels;

/// <summary>The interpolation filter printed in ITU-R BS.1770-5, annex 2 (order 48, four phases of 12 taps, here as multiples of 1/8192), as a second opinion.</summary>
internal static class AnnexTwoFilter
{
    private static readonly double[] First = [14, 90, -161, 272, -487, 1125, 7964, -838, 390, -218, 122, -68];
    private static readonly double[] Second = [-239, 240, -424, 730, -1364, 3810, 6388, -1641, 832, -477, 271, -155];

    public static double[][] Phases { get; } =
        [.. new[] { First, Second, [.. Second.Reverse()], [.. First.Reverse()] }.Select(phase => phase.Select(tap => tap / 8192).ToArray())];

    public static double PeakDb(double[] samples) => 20 * Math.Log10(Phases.Max(phase
        => Enumerable.Range(phase.Length, samples.Length - phase.Length).Max(at
            => Math.Abs(phase.Select((tap, k) => tap * samples[at - k]).Sum()))));
}
