using CsCheck;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

/// <summary>Where the listener takes a quick way, it finds what the full one does.</summary>
public sealed class QuickWayTests
{
    private static readonly Gen<float> Level = Gen.OneOf(
        Gen.Single[-130, 10], Gen.Int[-1300, 100].Select(tenths => tenths / 10f), Gen.Int[-9600, 300].Select(hundredths => hundredths / 100f));

    [Fact]
    public void A_pools_mean_level_is_what_its_definition_says_to_the_last_bit()
    {
        var levels = Gen.OneOf(Level.Array[0, 7], Gen.Select(Level, Gen.Int[1, 7], (level, count) => Enumerable.Repeat(level, count).ToArray()));
        Gen.Select(levels, Gen.Int[1, 5], Gen.Const(float.NegativeInfinity).Array[0, 1]).Sample((heard, usual, silent) =>
        {
            var (quick, full) = (new MeanLevel(usual), new MeanLevel(usual));
            for (var round = 0; round < 2; round++)
            {
                foreach (var level in (float[])[.. heard, .. silent])
                {
                    quick.Add(level);
                    full.Add(level);
                }

                Assert.Equal(full.InFull(), quick.Db());
                quick.Clear();
                full.Clear();
            }
        });
    }

    /// <summary>Around 0 dB a float is finest, and shows most of what a series leaves out.</summary>
    [Fact]
    public void Two_near_levels_have_the_mean_that_the_definition_says_to_the_last_bit()
    {
        Gen.Select(Gen.Single[-2, 2], Gen.Single[-3.2f, 3.2f]).Sample(
            (level, apart) =>
            {
                var (quick, full) = (new MeanLevel(2), new MeanLevel(2));
                foreach (var mean in (MeanLevel[])[quick, full])
                {
                    mean.Add(level);
                    mean.Add(level + apart);
                }

                Assert.Equal(full.InFull(), quick.Db());
            },
            iter: 5000);
    }

    [Fact]
    public void A_pools_mean_level_agrees_with_the_sum_of_powers()
    {
        Level.Array[1, 6].Sample(levels =>
        {
            var mean = new MeanLevel(levels.Length);
            Array.ForEach(levels, mean.Add);
            Assert.Equal(10 * Math.Log10(levels.Average(level => Math.Pow(10, level / 10.0))), mean.Db(), 1e-4);
        });
    }

    [Fact]
    public void Neither_other_inputs_nor_length_make_a_pop_of_a_rise_that_is_none_without_them()
    {
        var others = Gen.Select(Gen.Single[-20, 200], Gen.Int[0, 64], Gen.Single[0, 1], (riseDb, rises, spill) => new OtherInputs(riseDb, rises, spill));
        Gen.Select(Level.Array[160], Gen.Single[-10, 30], others).Sample((levels, lengthDb, heard) =>
        {
            var (measures, terms) = (Measured(levels), new float[PopEvidence.Terms]);
            PopEvidence.Weigh(measures, new RiseHabit(), new float[RiseHabit.ShapeLength], 0, float.NaN, 0.3f, terms);
            var most = PopEvidence.LogOdds(measures, terms);
            PopEvidence.WeighDear(measures, lengthDb, heard, terms);
            Assert.True(PopEvidence.LogOdds(measures, terms) <= most);
        });
    }

    [Fact]
    public void Hum_looked_for_up_to_a_limit_reads_the_same_below_it()
    {
        var hum = Gen.Select(Gen.Single[-60, -20], Gen.Single[0, 0.5f].Array[60], (level, scatter) => Array.ConvertAll(scatter, off => level + off));
        Gen.Select(hum, Gen.Single[0, 1]).Sample((levels, limit) =>
        {
            var history = Heard(levels, 9);
            var watch = new Hum(history);
            Assert.Equal(Math.Min(limit, watch.Repeats(0, 12, -90)), watch.Repeats(0, 12, -90, limit));
        });
    }

    [Fact]
    public void What_recent_readings_say_of_a_stretch_is_what_the_readings_in_it_say()
    {
        Gen.Select(Level.Array[1, 400], Gen.Int[0, 40], Gen.Int[1, 60]).Sample((levels, back, frames) =>
        {
            var history = Heard(levels, 6);
            float[] kept = [.. levels.Reverse().Take(128).Skip(back).Take(frames).Select(level => Math.Max(level, RecentReadings.Silence))];
            Assert.Equal(kept.Reverse(), history.Peaks(back, frames).ToArray());
            Assert.Equal(kept.Append(RecentReadings.Silence).Max(), history.Highest(back, frames));
            Assert.Equal(kept.Append(0).Min(), history.Lowest(back, frames));
            float[] sorted = [.. kept.Order()];
            Assert.Equal(sorted is [] ? RecentReadings.Silence : (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2, history.Median(back, frames));
        });
    }

    [Fact]
    public void An_onsets_distance_to_those_remembered_is_the_root_mean_square_of_its_shape()
    {
        var shape = Gen.Single[-20, 20].Array[RiseHabit.ShapeLength];
        Gen.Select(shape, shape.Array[0, 40]).Sample((one, earlier) =>
        {
            var habit = new RiseHabit();
            Array.ForEach(earlier, remembered => habit.Remember(remembered, 0, 0));
            double[] distances =
            [
                .. earlier.TakeLast(24).Select(other => Math.Sqrt(one.Zip(other).Average(pair => Math.Pow(pair.First - pair.Second, 2)))),
                15, 15, 15,
            ];
            Array.Sort(distances);
            var (nearest, third) = habit.Distance(one);
            Assert.Equal(distances[0], nearest, 1e-3);
            Assert.Equal(distances[2], third, 1e-3);
        });
    }

    /// <summary>Who asks for a trace has every rise judged in full.</summary>
    [Fact]
    public void A_stage_that_is_traced_and_one_that_is_not_find_the_same_to_the_last_bit()
    {
        Gen.Select(Gen.Int[0, int.MaxValue], Gen.Int[0, 3].Select(which => new[] { 0.01, 0.02, 0.05, 0.1 }[which]), Gen.Bool).Sample(
            (seed, frameS, withRms) => Assert.Equal(Words(seed, frameS, withRms, traced: true), Words(seed, frameS, withRms, traced: false)), iter: 40);
        Assert.True(Enumerable.Range(0, 20).Sum(seed => Words(seed, 0.02, true, traced: false).Count) > 50);
    }

    private static List<Finding> Words(int seed, double frameS, bool withRms, bool traced)
    {
        const int inputs = 4;
        var (stage, ring, words, random) = (new StageListener(inputs, new MeterTraits(frameS)), new FindingRing(), new List<Finding>(), new Random(seed));
        var judged = 0;
        if (traced)
            Array.ForEach([1, 2, 3, 4], input => stage.TraceInto(input, new RiseTrace((_, _, _, _) => { }, (_, _, _, _) => judged++)));
        var (levels, falls, crests) = (new double[inputs], new double[inputs], new double[inputs]);
        for (var frame = 1; frame * frameS < 20; frame++)
        {
            var together = random.NextDouble() < 0.5 * frameS;
            for (var input = 0; input < inputs; input++)
            {
                if (together || random.NextDouble() < 1.5 * frameS)
                    (levels[input], falls[input], crests[input]) = (-50 * random.NextDouble(), 10 + (300 * Math.Pow(random.NextDouble(), 3)), 4 + (8 * random.NextDouble()));
                levels[input] = Math.Max(-75, levels[input] - (falls[input] * frameS));
                var peak = levels[input] + random.NextDouble();
                stage.Observe(new MeterReading(input + 1, frame * frameS, (float)peak, withRms ? (float)(peak - crests[input]) : float.NaN), ring);
            }

            while (ring.TryTake(out var word))
                words.Add(word);
        }

        Assert.True(!traced || judged > 0);
        return words;
    }

    private static RecentReadings Heard(float[] levels, float crestDb)
    {
        var history = new RecentReadings(0.04, 0);
        foreach (var level in levels)
            history.Push(new PooledFrame(history.Count, history.Count * 0.04, level, level - crestDb));
        return history;
    }

    private static AfterRise Measured(float[] levels)
    {
        var history = Heard(levels, 6);
        var measures = new AfterRise(history, new Hum(history));
        measures.Measure(12, faintHum: false, new float[RiseHabit.ShapeLength]);
        return measures;
    }
}
