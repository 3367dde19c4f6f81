using TrimAssist.DemoDesk.Mixing;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>A pop that really happened.</summary>
/// <param name="Act">The act, from 0.</param>
/// <param name="Input">The input.</param>
/// <param name="Phase">In which phase.</param>
/// <param name="Muted">Whether the input was muted.</param>
/// <param name="AtS">The end of its frame in seconds since the desk began.</param>
public sealed record TruePop(int Act, int Input, FestivalPhase Phase, bool Muted, double AtS);

/// <summary>What really happened on the stage: for a summary afterwards, never for the service.</summary>
public sealed class FestivalTruth
{
    /// <summary>Frames with a bang that are remembered: some hours of the festival.</summary>
    private const int MostBangs = 4096;

    private readonly Dictionary<(int Act, int Input), double> _showPeaks = [];
    private readonly List<TruePop> _pops = [];
    private readonly Queue<(int Input, double AtS)> _bangs = new();

    /// <summary>The pops so far.</summary>
    public IReadOnlyList<TruePop> Pops => _pops;

    /// <summary>The highest peak that every input has played in its show so far, dBFS; bangs are no playing.</summary>
    public IReadOnlyDictionary<(int Act, int Input), double> ShowPeaksDbfs => _showPeaks;

    /// <summary>Whether something banged on an input near a moment: a plug, or a bad cable.</summary>
    /// <param name="input">The input.</param>
    /// <param name="atS">Seconds since the desk began.</param>
    /// <param name="withinS">How near.</param>
    public bool Banged(int input, double atS, double withinS) => _bangs.Any(bang => bang.Input == input && Math.Abs(bang.AtS - atS) <= withinS);

    internal void Bang(int input, double atS)
    {
        _bangs.Enqueue((input, atS));
        if (_bangs.Count > MostBangs)
            _bangs.Dequeue();
    }

    internal void Pop(TruePop pop) => _pops.Add(pop);

    internal void Hear(int act, IEnumerable<int> inputs, ReadOnlySpan<MeterPair> meters)
    {
        foreach (var input in inputs)
        {
            var key = (act, input);
            _showPeaks[key] = Math.Max(_showPeaks.GetValueOrDefault(key, double.NegativeInfinity), meters[input - 1].PeakDbfs);
        }
    }
}
