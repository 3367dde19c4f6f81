using System.Buffers.Binary;
using System.Collections.Concurrent;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>The players before a <see cref="BenchDesk"/>: each rests, plays in phrases, or pulls a plug. Peaks and means, frame by frame, always the same.</summary>
internal sealed class BenchPlayers(int inputs)
{
    private const double RestDbfs = -75;
    private const int PhraseFrames = 40;
    private static readonly double[] Pop = [-4, -20, -38, -56];

    private readonly ConcurrentDictionary<int, double> _playing = new();
    private readonly ConcurrentDictionary<int, int> _popping = new();

    public void Play(int input, double peakDbfs) => _playing[input] = peakDbfs;

    public void Rest(int input) => _playing.TryRemove(input, out _);

    public void Rest() => _playing.Clear();

    public void PullPlug(int input) => _popping[input] = 0;

    /// <summary>The next frame as the desk's two meter blobs.</summary>
    public (OscArgument Peaks, OscArgument Means) Frame(long frame)
    {
        var peaks = Enumerable.Range(1, inputs).Select(input => PeakOf(input, frame)).ToArray();
        return (Blob(peaks), Blob([.. peaks.Select((peak, index) => peak - (_playing.ContainsKey(index + 1) ? 10 : 6))]));
    }

    private double PeakOf(int input, long frame)
    {
        if (_popping.TryGetValue(input, out var at))
        {
            if (at < Pop.Length)
            {
                _popping[input] = at + 1;
                return Pop[at];
            }

            _popping.TryRemove(input, out _);
        }

        // Playing swells, breathes and rests between phrases; rest is a converter's own noise.
        var rest = RestDbfs + (0.2 * (frame % 4));
        return _playing.TryGetValue(input, out var peak) && PhraseDb((int)(frame % PhraseFrames)) is { } under
            ? Math.Max(rest, peak - under + (2.5 * Math.Sin((frame * 0.35) + input)) + (0.4 * (frame % 3)))
            : rest;
    }

    // How far under its peak the phrase is, frame by frame: a second and a half of playing, half a second of rest.
    private static double? PhraseDb(int frame) => frame switch
    {
        < 6 => 5.0 * (6 - frame),
        < 24 => 0,
        < 30 => 6.0 * (frame - 23),
        _ => null,
    };

    private static OscArgument Blob(double[] levels)
    {
        var bytes = new byte[levels.Length * sizeof(float)];
        for (var index = 0; index < levels.Length; index++)
            BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(index * sizeof(float)), (float)levels[index]);
        return OscArgument.OfBlob(bytes);
    }
}
