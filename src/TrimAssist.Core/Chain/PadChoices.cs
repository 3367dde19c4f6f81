namespace TrimAssist.Core.Chain;

/// <summary>All ways to set the pads of a chain, those with fewer pads in first.</summary>
internal static class PadChoices
{
    /// <summary>How many pads a chain may have: every one doubles the ways.</summary>
    public const int MostPads = 10;

    public static IEnumerable<bool[]> Of(IReadOnlyList<StageSteps> stages)
    {
        var padded = Enumerable.Range(0, stages.Count).Where(index => stages[index].Pad != 0).ToArray();
        return Enumerable.Range(0, 1 << padded.Length)
            .OrderBy(bits => System.Numerics.BitOperations.PopCount((uint)bits))
            .Select(bits =>
            {
                var pads = new bool[stages.Count];
                for (var index = 0; index < padded.Length; index++)
                    pads[padded[index]] = (bits >> index & 1) == 1;
                return pads;
            });
    }
}
