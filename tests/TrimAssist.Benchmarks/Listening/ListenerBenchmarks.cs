using BenchmarkDotNet.Attributes;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;

namespace TrimAssist.Benchmarks.Listening;

/// <summary>
/// The full listener, jump detection included, per input and frame; beside it a copy of the same readings, the least that
/// anybody could do with them.
/// </summary>
public class ListenerBenchmarks
{
    /// <summary>What the inputs play.</summary>
    public enum Material
    {
        /// <summary>Music-like: notes that are struck, die away and rest, each input for itself.</summary>
        Notes,

        /// <summary>Nobody plays.</summary>
        Rest,

        /// <summary>The dearest we know: bangs on all inputs, eight a second, each higher than any in the second before, so that each is judged in full.</summary>
        Bangs,
    }

    private const int Inputs = 64;
    private const int Frames = 500;
    private const double FrameS = 0.02;
    private const double RestDbfs = -70;
    private const int BangFrames = 6;
    private const int BangsInARow = 18;

    private readonly MeterReading[] _readings = new MeterReading[Inputs * Frames];
    private readonly MeterReading[] _copy = new MeterReading[Inputs * Frames];
    private readonly FindingRing _found = new();
    private StageListener _stage = null!;
    private LevelListener[] _levels = null!;
    private double _shiftS;

    [ParamsAllValues]
    public Material Heard { get; set; }

    [GlobalSetup]
    public void Play()
    {
        var traits = new MeterTraits(FrameS);
        _stage = new StageListener(Inputs, traits);
        _levels = [.. Enumerable.Range(1, Inputs).Select(input => new LevelListener(input, traits))];
        var (random, levels) = (new Random(1), new double[Inputs]);
        Array.Fill(levels, RestDbfs);
        for (var frame = 0; frame < Frames; frame++)
        {
            for (var input = 0; input < Inputs; input++)
            {
                levels[input] = Level(frame, levels[input], random);
                _readings[(frame * Inputs) + input] = new(input + 1, (frame + 1) * FrameS, (float)levels[input], (float)levels[input] - 9);
            }
        }
    }

    private double Level(int frame, double before, Random random) => Heard switch
    {
        Material.Notes when random.NextDouble() < 0.03 => -12 - (20 * random.NextDouble()),
        Material.Notes => Math.Max(RestDbfs + random.NextDouble(), before - 0.6),
        Material.Bangs when frame % BangFrames == 0 => RestDbfs + 10 + (3.2 * (frame / BangFrames % BangsInARow)),
        _ => RestDbfs + random.NextDouble(),
    };

    [Benchmark(Baseline = true, OperationsPerInvoke = Inputs * Frames)]
    public void Copy() => _readings.CopyTo(_copy, 0);

    [Benchmark(OperationsPerInvoke = Inputs * Frames)]
    public void Levels() => Each((in MeterReading reading) => _levels[reading.Input - 1].Observe(reading));

    [Benchmark(OperationsPerInvoke = Inputs * Frames)]
    public void Jumps() => Each((in MeterReading reading) =>
    {
        _stage.Observe(reading, _found);
        while (_found.TryTake(out _))
        {
        }
    });

    [Benchmark(OperationsPerInvoke = Inputs * Frames)]
    public void Whole() => Each((in MeterReading reading) =>
    {
        _levels[reading.Input - 1].Observe(reading);
        _stage.Observe(reading, _found);
        while (_found.TryTake(out _))
        {
        }
    });

    private delegate void Hear(in MeterReading reading);

    // Time goes on from run to run: what is not later than the frame before is dropped unheard.
    private void Each(Hear hear)
    {
        foreach (ref readonly var reading in _readings.AsSpan())
            hear(reading with { TimeS = reading.TimeS + _shiftS });
        _shiftS += Frames * FrameS;
    }
}
