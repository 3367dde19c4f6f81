using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>
/// The exact best of all settings that the steps allow. The noise referred to the source is a sum with one term for each
/// cumulative gain, so the search goes stage by stage over the cumulative gains that settings can reach and keeps, for each,
/// the quietest way there: every combination is covered, none is tried twice.
/// </summary>
internal sealed class SettingSearch
{
    /// <summary>The most comparisons that a search may need; a chain that needs more is refused.</summary>
    public const long MostWork = 300_000_000;

    /// <summary>Differences of signal-to-noise up to this count as none, and the nearer end wins.</summary>
    private const double SameDb = 0.005;

    private readonly ChainSteps _steps;
    private readonly long _unit;

    private SettingSearch(ChainSteps steps)
    {
        _steps = steps;
        _unit = Math.Max(1, steps.Stages.Aggregate(0L, (unit, stage) => Gcd(Gcd(unit, stage.Step), stage.Pad)));
    }

    /// <summary>The best settings that end on the target or less than the longest step under it; <see langword="null"/> where there is none.</summary>
    /// <param name="steps">The chain.</param>
    /// <param name="further">Whether to take the nearest end further under the target where none is so near, because stepless controls could reach it.</param>
    public static IReadOnlyList<StageSetting>? Best(ChainSteps steps, bool further) => new SettingSearch(steps).Run(further);

    /// <summary>About how many comparisons a chain needs.</summary>
    public static double Work(ChainSteps steps)
    {
        var search = new SettingSearch(steps);
        var reach = 1.0;
        var work = 0.0;
        foreach (var stage in steps.Stages)
        {
            var ways = stage.Count * (stage.Pad == 0 ? 1 : 2);
            work += reach * ways;
            reach += (stage.Max - stage.Min + Math.Abs(stage.Pad)) / (double)search._unit;
        }

        return work;
    }

    private List<StageSetting>? Run(bool further)
    {
        var layers = new List<Layer> { Layer.Start(_steps.Chain.SourceNoise is { } noise ? (noise - _steps.Chain.Source).Value : null) };
        for (var index = 0; index < _steps.Stages.Count; index++)
            layers.Add(Next(layers[^1], index));
        return (Quietest(layers[^1]) ?? (further ? Highest(layers[^1]) : null)) is { } end ? TraceBack(layers, end) : null;
    }

    private Layer Next(Layer from, int index)
    {
        var stage = _steps.Stages[index];
        var last = index == _steps.Stages.Count - 1;
        var ceiling = Math.Min(_steps.LimitOut(index) ?? long.MaxValue, last ? _steps.Target : long.MaxValue);
        var bottom = from.Bottom + stage.Min - stage.Pad;
        var top = Math.Min(from.Top + stage.Max, ceiling);
        var to = new Layer(bottom, _unit, top < bottom ? 0 : (int)((top - bottom) / _unit) + 1);
        foreach (var padIn in stage.Pad == 0 ? [false] : (ReadOnlySpan<bool>)[false, true])
            Spread(from, to, index, padIn);
        to.AddNoise(_steps.Chain.Stages[index].Noise is { FollowsGain: false } noise ? noise.Level.Value - _steps.Chain.Source.Value : null);
        return to;
    }

    private void Spread(Layer from, Layer to, int index, bool padIn)
    {
        var stage = _steps.Stages[index];
        var limit = _steps.LimitIn(index, padIn) ?? long.MaxValue;
        var (low, _) = stage.Through(padIn);
        var stride = (int)(stage.Step / _unit);
        var inputNoise = _steps.Chain.Stages[index].Noise is { FollowsGain: true } noise ? noise.Level.Value - _steps.Chain.Source.Value : (double?)null;
        for (var origin = 0; origin < from.Length; origin++)
        {
            var at = from.At(origin);
            if (!from.IsReached(origin) || at > limit)
                continue;
            // Equivalent input noise stands behind the pad: the more the pad takes off, the larger it is beside the signal.
            var power = from.Power[origin] + (inputNoise is { } level ? NoisePower.Of(level - (at - (padIn ? stage.Pad : 0)) / (double)ChainSteps.PerDecibel) : 0);
            var goal = to.IndexOf(at + low);
            for (var way = 0; way < stage.Count && goal < to.Length; way++, goal += stride)
                to.Offer(goal, power, from.Early[origin], origin, way, padIn);
        }
    }

    private int? Quietest(Layer end)
    {
        var near = Enumerable.Range(0, end.Length).Where(index => end.IsReached(index) && _steps.IsNearTarget(end.At(index))).ToList();
        if (near.Count == 0)
            return null;
        var same = near.Min(index => end.Power[index]) * NoisePower.Of(SameDb);
        return near.FindLast(index => end.Power[index] <= same);
    }

    private static int? Highest(Layer end)
    {
        var highest = Array.FindLastIndex(end.Power, double.IsFinite);
        return highest < 0 ? null : highest;
    }

    private List<StageSetting> TraceBack(List<Layer> layers, int end)
    {
        var settings = new List<StageSetting>(_steps.Stages.Count);
        for (var index = _steps.Stages.Count - 1; index >= 0; index--)
        {
            var stage = _steps.Stages[index];
            var (origin, way, padIn) = layers[index + 1].CameFrom(end);
            settings.Add(new StageSetting(new Decibels((stage.Min + way * stage.Step) / (double)ChainSteps.PerDecibel), padIn));
            end = origin;
        }

        settings.Reverse();
        return settings;
    }

    private static long Gcd(long one, long other) => other == 0 ? Math.Abs(one) : Gcd(other, one % other);
}
