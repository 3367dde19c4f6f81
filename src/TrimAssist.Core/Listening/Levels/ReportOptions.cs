using TrimAssist.Core.Units;

namespace TrimAssist.Core.Listening.Levels;

/// <summary>What a report is to aim for.</summary>
public sealed record ReportOptions
{
    /// <summary>Where the loudest show peak should land; -12 dBFS unless told.</summary>
    public Dbfs Target { get; init; } = new(-12);

    /// <summary>The dB added for what players hold back; 4 dB as common practice unless it has been learned.</summary>
    public Decibels Allowance { get; init; } = new(4);

    /// <summary>How far shows have strayed from that allowance (standard deviation in dB); 3.6 dB unless it has been learned.</summary>
    public double AllowanceSpreadDb { get; init; } = 3.6;

    /// <summary>Whether the allowance was learned for this player or kind of source.</summary>
    public bool AllowanceLearned { get; init; }
}
