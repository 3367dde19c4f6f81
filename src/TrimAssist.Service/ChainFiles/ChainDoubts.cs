using TrimAssist.Core.Chain;

namespace TrimAssist.Service.ChainFiles;

/// <summary>What is to be said about a chain that an input is to carry. It is carried all the same: what it says of its stages is still worth knowing.</summary>
internal static class ChainDoubts
{
    /// <summary>The limits that cannot hold together, as a sentence; empty where all can.</summary>
    public static IReadOnlyList<string> Of(SignalChain chain) => ChainPlanner.Plan(chain) is ChainInfeasible { Collision: { } collision }
        ? [$"no setting keeps every limit: {collision.Text}"]
        : [];
}
