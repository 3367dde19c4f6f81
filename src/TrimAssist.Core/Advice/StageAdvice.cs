using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Advice;

/// <summary>What the evidence of an input says is wrong with its chain.</summary>
public enum AdviceKind
{
    /// <summary>The peaks flatten below full scale: a stage before the converter clips.</summary>
    EarlierStageClips,

    /// <summary>A pad takes away what the trim has to bring back.</summary>
    PadLeftIn,

    /// <summary>The trim is at an end of its range.</summary>
    TrimAtItsEnd,

    /// <summary>The noise moves with the trim: it comes from before it.</summary>
    NoiseBeforeTrim,

    /// <summary>The noise does not move with the trim: it comes from behind it.</summary>
    NoiseAfterTrim,
}

/// <summary>One piece of advice about an input's chain: which stage to touch, by how much, and why. Advice only: nothing of it is ever sent to a desk.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Stage">The stage to touch, by the name that the chain gives it.</param>
/// <param name="ByDb">How far: up above 0, down below; <see langword="null"/> where no figure can be given.</param>
/// <param name="Text">One plain sentence.</param>
/// <param name="Evidence">What was heard that says so.</param>
public sealed record StageAdvice(AdviceKind Kind, string Stage, double? ByDb, Saying Text, IReadOnlyList<string> Evidence);
