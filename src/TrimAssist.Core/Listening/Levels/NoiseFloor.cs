namespace TrimAssist.Core.Listening.Levels;

/// <summary>The noise floor: the level that a tenth of all cells do not pass.</summary>
internal static class NoiseFloor
{
    /// <summary>Which quantile stands for the floor.</summary>
    public const double Share = 0.1;

    /// <summary>Works out the floor; NaN where nothing was read.</summary>
    public static double Of(TapeCopy tape) => Quantile.Of(tape.Energy, Share);
}
