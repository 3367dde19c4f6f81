namespace TrimAssist.Core.Checks;

/// <summary>How far the loud passages of the players' inputs lie apart with every fader at unity: so far the faders would have to differ for equal levels.</summary>
/// <param name="NowDb">At the trims as they were heard.</param>
/// <param name="ProposedDb">At the trims proposed, where all of them are taken; <see langword="null"/> while the check listens.</param>
public sealed record FaderSpread(double NowDb, double? ProposedDb)
{
    /// <summary>The highest less the lowest of some levels; <see langword="null"/> of fewer than two.</summary>
    public static double? Of(IReadOnlyCollection<double> levelsDbfs) => levelsDbfs.Count > 1 ? levelsDbfs.Max() - levelsDbfs.Min() : null;
}
