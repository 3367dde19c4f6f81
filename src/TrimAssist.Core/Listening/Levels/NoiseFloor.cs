namespace TrimAssist.Core.Listening.Levels;

/// <summary>The noise floor: the level that a tenth of all cells do not pass.</summary>
internal static class NoiseFloor
{
    /// <summary>Which quantile stands for the floor.</summary>
    public const double Share = 0.1;

    // Below what any converter or meter resolves: the desk sent digital silence, which says nothing of the noise.
    private const double LowestShownDbfs = -200;

    /// <summary>Works out the floor; NaN where nothing was read and where the meters show digital silence.</summary>
    public static double Of(TapeCopy tape) => Quantile.Of(tape.Energy, Share) is var floor and > LowestShownDbfs ? floor : double.NaN;
}
