namespace TrimAssist.Service.Measure;

/// <summary>What the user asked for.</summary>
/// <param name="TargetDbfs">Where the loudest show peak should land.</param>
/// <param name="AllowanceDb">The dB added for what players hold back.</param>
/// <param name="StepDb">Distance between trim settings.</param>
internal sealed record MeasureOptions(double TargetDbfs = -12, double AllowanceDb = 4, double StepDb = 0.1);
