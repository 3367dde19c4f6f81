using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>The way of one signal from its source through stages to a wanted peak. Send and return loops are stages in their place.</summary>
public sealed record SignalChain
{
    /// <summary>The source's loudest peak.</summary>
    public required Dbu Source { get; init; }

    /// <summary>The noise that comes with the source; <see langword="null"/> for none worth counting.</summary>
    public Dbu? SourceNoise { get; init; }

    /// <summary>The peak wanted at the last stage's output.</summary>
    public required Dbu Target { get; init; }

    /// <summary>Digital full scale at the last stage's output; <see langword="null"/> where the chain ends analogue. No peak is planned by it: the target already keeps its distance.</summary>
    public Dbu? FullScale { get; init; }

    /// <summary>How far every peak stays under each stage's limits; 0 or more.</summary>
    public required Decibels Headroom { get; init; }

    /// <summary>The stages in the order of the signal; at least one.</summary>
    public required IReadOnlyList<ChainStage> Stages { get; init; }

    /// <summary>Today's settings; <see langword="null"/> where one of them is not known.</summary>
    public IReadOnlyList<StageSetting>? Today =>
        Stages.All(stage => stage.Today is not null) ? [.. Stages.Select(stage => stage.Today!.Value)] : null;
}
