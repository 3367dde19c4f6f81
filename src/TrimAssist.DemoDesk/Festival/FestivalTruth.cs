using TrimAssist.DemoDesk.Mixing;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>A pop that really happened.</summary>
/// <param name="Act">The act, from 0.</param>
/// <param name="Input">The input.</param>
/// <param name="Phase">In which phase.</param>
/// <param name="Muted">Whether the input was muted.</param>
public sealed record TruePop(int Act, int Input, FestivalPhase Phase, bool Muted);

/// <summary>What really happened on the stage: for a summary afterwards, never for the service.</summary>
public sealed class FestivalTruth
{
    private readonly Dictionary<(int Act, int Input), double> _showPeaks = [];
    private readonly List<TruePop> _pops = [];

    /// <summary>The pops so far.</summary>
    public IReadOnlyList<TruePop> Pops => _pops;

    /// <summary>The highest show peak of every input so far, dBFS.</summary>
    public IReadOnlyDictionary<(int Act, int Input), double> ShowPeaksDbfs => _showPeaks;

    internal void Pop(int act, int input, FestivalPhase phase, bool muted) => _pops.Add(new(act, input, phase, muted));

    internal void Hear(int act, IEnumerable<int> inputs, ReadOnlySpan<MeterPair> meters)
    {
        foreach (var input in inputs)
        {
            var key = (act, input);
            _showPeaks[key] = Math.Max(_showPeaks.GetValueOrDefault(key, double.NegativeInfinity), meters[input - 1].PeakDbfs);
        }
    }
}
