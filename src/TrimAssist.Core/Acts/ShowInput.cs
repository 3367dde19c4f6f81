namespace TrimAssist.Core.Acts;

/// <summary>What became of one input in one act's show: what is remembered, reported and learned from. Levels at the gain that the desk had at the end.</summary>
/// <param name="Desk">The desk.</param>
/// <param name="Act">The act.</param>
/// <param name="BegunAt">When the act came on: with desk and act it names the show.</param>
/// <param name="Line">The input as the list had it.</param>
/// <param name="TrimDb">The trim at the end.</param>
/// <param name="PadOn">The pad at the end.</param>
/// <param name="TargetDbfs">Where the peak should have landed.</param>
/// <param name="CheckPeakDbfs">The check's highest peak.</param>
/// <param name="NoiseFloorDbfs">The check's noise floor.</param>
/// <param name="LoudestPassageDbfs">The check's loudest passage.</param>
/// <param name="PredictedDbfs">The show's peak as the check predicted it, allowance included.</param>
/// <param name="ShowPeakDbfs">The show's highest peak, bangs left out.</param>
/// <param name="Clipped">Whether the converter was full: the peak was at least so high.</param>
/// <param name="AllowanceDb">What was added for holding back.</param>
/// <param name="AllowanceBasis">Where that came from.</param>
/// <param name="AboveCheckDb">How far the show's peak ran above the check's prediction without any allowance.</param>
public sealed record ShowInput(
    string Desk, string Act, DateTimeOffset BegunAt, ActInput Line, double? TrimDb, bool? PadOn, double TargetDbfs, double? CheckPeakDbfs,
    double? NoiseFloorDbfs, double? LoudestPassageDbfs, double? PredictedDbfs, double? ShowPeakDbfs, bool Clipped, double AllowanceDb,
    string AllowanceBasis, double? AboveCheckDb)
{
    /// <summary>Whether it was told before the show was over, and no later word came: the service fell or stopped. Louder may have followed.</summary>
    public bool SoFar { get; init; }

    /// <summary>What it teaches; <see langword="null"/> where check or show is missing or nobody played.</summary>
    public HeldBack? Teaches => AboveCheckDb is { } above && RoleRules.Teaches(Line.Role)
        ? new HeldBack(PlayerKey(Act, Line), SourceKinds.Of(Line.Source), above, Clipped || SoFar, BegunAt)
        : null;

    /// <summary>By what a player is found again: the name, whatever the night, the input or the desk; without one the act's input stands in.</summary>
    public static string PlayerKey(string act, ActInput line) =>
        line.Player is { Length: > 0 } player ? player.Trim().ToUpperInvariant() : $"{act}/{line.Name ?? line.Source}/{line.Input}";
}
