namespace TrimAssist.Core.Chain;

/// <summary>Which figure of a chain is meant.</summary>
public enum ChainFigure
{
    /// <summary>The source's loudest peak.</summary>
    Source,

    /// <summary>The peak wanted at the end.</summary>
    Target,

    /// <summary>The distance every peak keeps from each limit.</summary>
    Headroom,

    /// <summary>A stage's input limit.</summary>
    MaxIn,

    /// <summary>A stage's output limit.</summary>
    MaxOut,

    /// <summary>A stage's lowest gain.</summary>
    MinGain,

    /// <summary>A stage's highest gain.</summary>
    MaxGain,

    /// <summary>What a stage's pad takes off.</summary>
    Pad,
}

/// <summary>One of the figures that cannot hold together.</summary>
/// <param name="Stage">The stage's name; <see langword="null"/> where the whole chain is meant.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="Value">Its value, in dBu or dB.</param>
public sealed record ChainLimit(string? Stage, ChainFigure Figure, double Value);

/// <summary>Figures of a chain that cannot hold together.</summary>
/// <param name="Limits">The figures.</param>
/// <param name="ExcessDb">By how much they miss each other.</param>
/// <param name="Text">The same in one sentence.</param>
/// <param name="Remedy">What would help, in one sentence.</param>
public sealed record ChainCollision(IReadOnlyList<ChainLimit> Limits, double ExcessDb, string Text, string Remedy);
