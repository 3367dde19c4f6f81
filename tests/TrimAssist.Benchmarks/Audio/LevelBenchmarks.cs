using BenchmarkDotNet.Attributes;
using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.MeterModel;
using TrimAssist.Audio.Samples;
using TrimAssist.Core.Meters;

namespace TrimAssist.Benchmarks.Audio;

/// <summary>Cost of each measurement per sample of one channel; a second of 48 kHz noise in every channel.</summary>
[MemoryDiagnoser]
public class LevelBenchmarks
{
    private const int Rate = 48_000;

    private SampleBlock _block = null!;
    private LoudnessMeter _loudness = null!;
    private DeskMeters _meters = null!;
    private TruePeakMeter[] _truePeaks = null!;

    /// <summary>Number of channels measured together; divide the time by it for the cost of one channel's sample.</summary>
    [Params(1, 2, 64)]
    public int Channels { get; set; }

    /// <summary>Fills the block with seeded noise.</summary>
    [GlobalSetup]
    public void Fill()
    {
        var random = new Random(1);
        _block = new SampleBlock(Channels, Rate);
        _block.Resize(Rate);
        for (var channel = 0; channel < Channels; channel++)
        {
            foreach (ref var sample in _block.Fill(channel))
                sample = random.NextDouble() - 0.5;
        }

        _loudness = LoudnessMeter.OfEachChannel(Rate, Channels);
        _meters = new DeskMeters(new MeterTraits(0.05), Rate, Channels);
        _truePeaks = [.. Enumerable.Range(0, Channels).Select(_ => new TruePeakMeter())];
    }

    /// <summary>Filters, windows and gates.</summary>
    [Benchmark(OperationsPerInvoke = Rate)]
    public void KWeightedLoudness() => _loudness.Hear(_block);

    /// <summary>Four times oversampled peaks.</summary>
    [Benchmark(OperationsPerInvoke = Rate)]
    public void TruePeak()
    {
        for (var channel = 0; channel < Channels; channel++)
            _truePeaks[channel].Hear(_block.Channel(channel));
    }

    /// <summary>Peak and RMS in frames of 50 ms.</summary>
    [Benchmark(OperationsPerInvoke = Rate)]
    public void PeakAndRms() => _meters.Hear(_block, static _ => { });
}
