namespace TrimAssist.Core.Chain;

/// <summary>One order of a chain: two neighbours swapped, planned anew.</summary>
/// <param name="First">The stage that comes first now.</param>
/// <param name="Second">The stage that comes second now, and would come first.</param>
/// <param name="Answer">The plan with the two swapped.</param>
public sealed record SwappedOrder(string First, string Second, ChainAnswer Answer)
{
    /// <summary>Every swap of two neighbours, in the order of the chain.</summary>
    public static IReadOnlyList<SwappedOrder> AllOf(SignalChain chain)
    {
        ArgumentNullException.ThrowIfNull(chain);
        return [.. Enumerable.Range(0, chain.Stages.Count - 1).Select(index => Swap(chain, index))];
    }

    private static SwappedOrder Swap(SignalChain chain, int index)
    {
        var stages = chain.Stages.ToArray();
        (stages[index], stages[index + 1]) = (stages[index + 1], stages[index]);
        return new(stages[index + 1].Name, stages[index].Name, ChainPlanner.Plan(chain with { Stages = stages }));
    }
}
