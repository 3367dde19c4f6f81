namespace TrimAssist.Core.Advice;

/// <summary>
/// Turns what was heard on an input into one sentence about its chain: which stage to touch and by how much. What is clipped
/// comes first, since nothing behind it cures it; then a pad that was left in, a trim at its end, and noise.
/// </summary>
public static class StageAdviser
{
    /// <summary>The advice that matters most; <see langword="null"/> where nothing speaks against the chain.</summary>
    public static StageAdvice? Of(InputEvidence evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var chain = HeardChain.Of(evidence);
        return ClippingAdvice.Of(evidence, chain) ?? PadAdvice.Of(evidence, chain) ?? TrimEndAdvice.Of(evidence, chain) ?? NoiseAdvice.Of(evidence, chain);
    }
}
