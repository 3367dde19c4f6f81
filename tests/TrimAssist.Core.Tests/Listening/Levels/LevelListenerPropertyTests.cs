using CsCheck;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Levels;

public sealed class LevelListenerPropertyTests
{
    // The tape keeps hundredths of a dB.
    private const double RoundingDb = 0.03;

    // Gains of whole hundredths too: by any other a rounding may lift a level over a limit that it lay under.
    private const double HundredthsADb = 100;

    [Fact]
    public void A_gain_put_on_every_reading_moves_every_level_by_that_gain_and_nothing_else()
    {
        Gen.Select(Gen.Int[1, 1000], Gen.Int[-1200, 1200]).Sample(
            (seed, gain) =>
            {
                var gainDb = gain / HundredthsADb;
                var (plain, moved) = (Played.Report(Played.Notes(seed)), Played.Report(Played.Notes(seed), gainDb));
                Assert.Equal(plain.Peak!.Value.Value + gainDb, moved.Peak!.Value.Value, RoundingDb);
                Assert.Equal(plain.NoiseFloor!.Value.Value + gainDb, moved.NoiseFloor!.Value.Value, RoundingDb);
                Assert.Equal(plain.Loudest!.Level.Value + gainDb, moved.Loudest!.Level.Value, RoundingDb);
                Assert.Equal(plain.Prediction!.Low.Value + gainDb, moved.Prediction!.Low.Value, RoundingDb);
                Assert.Equal(plain.Prediction.Middle.Value + gainDb, moved.Prediction.Middle.Value, RoundingDb);
                Assert.Equal(plain.Prediction.High.Value + gainDb, moved.Prediction.High.Value, RoundingDb);
                Assert.Equal(plain.ActiveS, moved.ActiveS, 0.11);
                Assert.Equal(plain.SignalToNoise!.Value.Value, moved.SignalToNoise!.Value.Value, RoundingDb);
            },
            iter: 40);
    }

    [Fact]
    public void A_trim_turned_in_the_middle_of_a_check_ends_in_the_same_report_as_one_that_stood_there_all_along()
    {
        Gen.Select(Gen.Int[1, 1000], Gen.Int[-1000, 1000], Gen.Int[10, 35]).Sample(
            (seed, turn, pair) =>
            {
                var turnDb = turn / HundredthsADb;
                // in the rest between two notes
                var atS = (2 * pair) + 1.5;
                var notes = Played.Notes(seed);
                var frames = (int)(atS / Played.FrameS);
                var stood = new LevelListener(1, Played.Traits);
                stood.SettingsChanged(0, 30 + turnDb);
                Played.Into(stood, notes, turnDb);
                // the turn itself is left out, so leave the same stretch out where none was made
                stood.Exclude(atS - 0.2, atS + 0.2);
                var turned = new LevelListener(1, Played.Traits);
                turned.SettingsChanged(0, 30);
                Played.Into(turned, notes.Take(frames));
                turned.SettingsChanged(atS, 30 + turnDb);
                Played.Into(turned, notes.Skip(frames), turnDb, atS);

                var (expected, got) = (stood.Report(new ReportOptions()), turned.Report(new ReportOptions()));
                Assert.Equal(expected.Peak!.Value.Value, got.Peak!.Value.Value, RoundingDb);
                Assert.Equal(expected.Prediction!.Middle.Value, got.Prediction!.Middle.Value, RoundingDb);
                Assert.Equal(expected.Loudest!.Level.Value, got.Loudest!.Level.Value, RoundingDb);
            },
            iter: 40);
    }

    [Fact]
    public void Any_floats_at_any_times_never_throw_and_leave_a_report_without_NaN()
    {
        var level = Gen.OneOf(Gen.Single, Gen.Single[-140, 30], Gen.Const(float.NaN), Gen.Const(float.NegativeInfinity), Gen.Const(float.PositiveInfinity));
        Gen.Select(Gen.OneOf(Gen.Double[0, 100], Gen.Double), level, level, (time, peak, rms) => new MeterReading(1, time, peak, rms)).Array[0, 300].Sample(readings =>
        {
            var listener = new LevelListener(1, Played.Traits);
            foreach (var reading in readings.OrderBy(reading => reading.TimeS))
                listener.Observe(reading);
            var report = listener.Report(new ReportOptions());
            Assert.True(report.Prediction is null == report.Withheld is not null);
            Assert.All(
                new[] { report.Peak?.Value, report.NoiseFloor?.Value, report.Loudest?.Level.Value, report.Prediction?.Middle.Value },
                value => Assert.True(value is null || double.IsFinite(value.Value)));
        });
    }

    [Fact]
    public void Hearing_levels_allocates_nothing()
    {
        var (listener, notes, frame) = (new LevelListener(1, Played.Traits), Played.Notes(1), 0);
        // Once in a while the runtime itself allocates on this thread, when it compiles a method anew; it does not do so every time.
        Assert.Contains(0, Enumerable.Range(0, 4).Select(_ =>
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            foreach (var level in notes)
                listener.Observe(new MeterReading(1, ++frame * Played.FrameS, level, level - 9));
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }));
    }
}
