using TrimAssist.Core.Units;

namespace TrimAssist.Core.Assist;

/// <summary>What the engineer chooses for a desk.</summary>
/// <param name="Target">Where the loudest show peak should land; default −12 dBFS.</param>
/// <param name="AllowanceDb">What is added for what players hold back, where nothing better is known; default 4 dB, common practice.</param>
public sealed record AssistOptions(Dbfs Target, double AllowanceDb)
{
    /// <summary>Target −12 dBFS, allowance 4 dB.</summary>
    public static AssistOptions Default { get; } = new(new Dbfs(-12), 4);
}
