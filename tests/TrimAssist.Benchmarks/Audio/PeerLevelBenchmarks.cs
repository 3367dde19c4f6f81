using BenchmarkDotNet.Attributes;
using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.Samples;
using TrimAssist.Benchmarks.Peers;

namespace TrimAssist.Benchmarks.Audio;

/// <summary>Momentary loudness and true peak beside libebur128's, per sample of one channel of 48 kHz noise.</summary>
[CategoriesColumn]
public unsafe class PeerLevelBenchmarks
{
    private const int Rate = 48_000;
    private const int Many = 64;

    private readonly double[] _samples = new double[Rate];
    private SampleBlock _one = null!;
    private SampleBlock _many = null!;
    private LoudnessMeter _loudness = null!;
    private LoudnessMeter _manyLoudness = null!;
    private TruePeakMeter _truePeak = null!;

    [GlobalSetup]
    public void Fill()
    {
        var random = new Random(1);
        foreach (ref var sample in _samples.AsSpan())
            sample = random.NextDouble() - 0.5;
        (_one, _many) = (Block(1), Block(Many));
        (_loudness, _manyLoudness) = (LoudnessMeter.OfEachChannel(Rate, 1), LoudnessMeter.OfEachChannel(Rate, Many));
        _truePeak = new TruePeakMeter();
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = Rate), BenchmarkCategory("K-weighting")]
    public double LoudnessLibebur128() => Peer(truePeak: 0);

    [Benchmark(OperationsPerInvoke = Rate), BenchmarkCategory("K-weighting")]
    public void Loudness() => _loudness.Hear(_one);

    [Benchmark(OperationsPerInvoke = Rate * Many), BenchmarkCategory("K-weighting")]
    public void LoudnessOf64() => _manyLoudness.Hear(_many);

    [Benchmark(Baseline = true, OperationsPerInvoke = Rate), BenchmarkCategory("true peak")]
    public double TruePeakLibebur128() => Peer(truePeak: 1);

    [Benchmark(OperationsPerInvoke = Rate), BenchmarkCategory("true peak")]
    public void TruePeak() => _truePeak.Hear(_one.Channel(0));

    private double Peer(int truePeak)
    {
        fixed (double* samples = _samples)
            return Native.Ebur128(samples, Rate, Rate, truePeak);
    }

    private SampleBlock Block(int channels)
    {
        var block = new SampleBlock(channels, Rate);
        block.Resize(Rate);
        for (var channel = 0; channel < channels; channel++)
            _samples.CopyTo(block.Fill(channel));
        return block;
    }
}
