using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Tests.Listening.Jumps;

/// <summary>Tells a stage of inputs as meter readings and keeps every word the listener said.</summary>
internal sealed class MeterStory(int frameMs, bool withRms = true, int inputs = 4, double gainDb = 0)
{
    private const float NoiseCrestDb = 7.9f;

    private readonly FindingRing _ring = new();
    private readonly Random _noise = new(7);

    public StageListener Stage { get; } = new(inputs, new MeterTraits(frameMs / 1000.0, Tap: MeterTap.Converter, FollowsMute: true));

    public List<(Finding Word, double SaidS)> Words { get; } = [];

    public SettledFindings Settled { get; } = new();

    public double NowS { get; private set; }

    public double FrameS { get; } = frameMs / 1000.0;

    /// <summary>One frame on every input: input 1 as told, the others at rest unless told to do the same.</summary>
    public MeterStory Frame(float peak, float crestDb, bool everybody = false)
    {
        NowS += FrameS;
        for (var input = 1; input <= inputs; input++)
        {
            var (level, crest) = input == 1 || everybody ? (peak, crestDb) : (-70 + Scatter(), NoiseCrestDb);
            Stage.Observe(new MeterReading(input, NowS, level + (float)gainDb, withRms ? level - crest + (float)gainDb : float.NaN), _ring);
        }

        while (_ring.TryTake(out var word))
        {
            Words.Add((word, NowS));
            Settled.Take(word);
        }

        return this;
    }

    public MeterStory Rest(double seconds, float level = -70) => For(seconds, _ => (level + Scatter(), NoiseCrestDb));

    /// <summary>A bang out of nothing that a capacitor takes back on a straight line of decibels, to the rest as it was.</summary>
    public MeterStory Pop(float peak, float rest = -70, double fallDbPerS = 170)
    {
        return For((peak - rest) / fallDbPerS, t => ((float)Math.Max(rest, peak - (fallDbPerS * t)), t < FrameS ? 7 : 4)).Rest(1, rest);
    }

    /// <summary>A plucked or struck note: up within a frame or two, down a little at once and slowly on.</summary>
    public MeterStory Note(float peak, double seconds = 0.8, bool everybody = false) =>
        For(seconds, t => (peak - (float)(t < 0.2 ? 40 * t : 8 + (12 * (t - 0.2))) + Scatter(), 7), everybody);

    /// <summary>A drum: 25 dB down within a quarter of a second, then slower.</summary>
    public MeterStory Drum(float peak, float rest = -70) =>
        For(0.6, t => (Math.Max(rest, peak - (float)(t < 0.05 ? 0 : t < 0.25 ? 110 * (t - 0.05) : 22 + (35 * (t - 0.25)))) + Scatter(), 8));

    public MeterStory For(double seconds, Func<double, (float Peak, float Crest)> level, bool everybody = false)
    {
        var frames = Math.Max(1, (int)Math.Round(seconds / FrameS));
        for (var i = 0; i < frames; i++)
        {
            var (peak, crest) = level(i * FrameS);
            Frame(peak, crest, everybody);
        }

        return this;
    }

    public IEnumerable<FindingKind> Kinds => Settled.Of(1).Select(finding => finding.Kind);

    private float Scatter() => (_noise.NextSingle() - 0.5f) * 1.6f;
}
