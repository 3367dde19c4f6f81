using CsCheck;
using TrimAssist.Desk.Profiles.Values;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

public sealed class ScaleTests
{
    private static readonly Gen<GainScale> Scales = Gen.OneOf(
        Gen.Select(Gen.Double[-90, 0], Gen.Double[1, 90]).Select((low, span) => GainScale.Decibels(low, low + span)),
        Gen.Select(Gen.Double[-5, 5], Gen.Double[0.5, 2000], Gen.Double[-90, 0], Gen.Double[1, 90]).Select((low, span, min, db) => GainScale.Even(low, low + span, min, min + db)),
        Gen.Select(Gen.Double[0.01, 5].List[1, 12], Gen.Double[0.1, 30].List[12], Gen.Bool).Select(Curve));

    [Fact]
    public void A_gain_survives_the_way_to_the_wire_and_back() =>
        Gen.Select(Scales, Gen.Double[0, 1]).Sample((scale, at) =>
        {
            var db = scale.MinDb + (at * (scale.MaxDb - scale.MinDb));
            return scale.ToWire(db) is { } wire && scale.ToDb(wire) is { } back && Math.Abs(back - db) < 1e-6;
        });

    [Fact]
    public void A_gain_survives_a_32_bit_float_within_a_thousandth_of_a_decibel() =>
        Gen.Double[0, 54].Sample(db =>
        {
            var scale = GainScale.Even(0, 1, 0, 54);
            return scale.ToDb((float)scale.ToWire(db)!.Value) is { } back && Math.Abs(back - db) < 1e-3;
        });

    [Theory]
    [InlineData(0, -5)]
    [InlineData(0.25, 10)]
    [InlineData(0.5, 25)]
    [InlineData(0.75, 39.5)]
    [InlineData(1, 54)]
    [InlineData(1.00000012, 54)]
    public void A_curve_is_straight_between_its_points(double wire, double db) =>
        Assert.Equal(db, GainScale.Curve([(0, -5), (0.5, 25), (1, 54)]).ToDb(wire)!.Value, 1e-9);

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void What_lies_off_the_scale_is_no_value(double wire) => Assert.Null(GainScale.Even(0, 1, 0, 54).ToDb(wire));

    [Theory]
    [InlineData(-0.1)]
    [InlineData(54.1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_gain_outside_the_range_is_never_sent(double db)
    {
        Assert.Null(GainScale.Even(0, 1, 0, 54).ToWire(db));
        Assert.Null(GainScale.Decibels(0, 54).ToWire(db));
    }

    [Fact]
    public void A_desk_that_speaks_decibels_may_report_beyond_its_range() => Assert.Equal(60, GainScale.Decibels(0, 54).ToDb(60));

    [Fact]
    public void A_faders_curve_may_end_in_silence()
    {
        var scale = GainScale.Curve([(0, double.NegativeInfinity), (0.1, -60), (1, 10)]);

        Assert.Equal(double.NegativeInfinity, scale.ToDb(0));
        Assert.Equal(-60, scale.ToDb(0.05));
        Assert.Equal(-60, scale.ToDb(0.1));
        Assert.Equal(10, scale.ToDb(1));
    }

    [Theory]
    [InlineData(0.0, 0.0, 1.0, 0.0)]
    [InlineData(0.0, 0.0, 0.0, 1.0)]
    public void A_curve_that_does_not_run_is_refused(double x0, double y0, double x1, double y1) =>
        Assert.Throws<ArgumentException>(() => GainScale.Curve([(x0, y0), (x1, y1)]));

    [Theory]
    [InlineData(LevelUnit.Dbfs, -12.5, -12.5)]
    [InlineData(LevelUnit.Dbfs, double.NegativeInfinity, double.NegativeInfinity)]
    [InlineData(LevelUnit.Dbfs, double.PositiveInfinity, double.NaN)]
    [InlineData(LevelUnit.Dbfs, double.NaN, double.NaN)]
    [InlineData(LevelUnit.Dbfs, 1e9, double.NaN)]
    [InlineData(LevelUnit.Amplitude, 1.0, 0.0)]
    [InlineData(LevelUnit.Amplitude, -0.5, -6.0205999)]
    [InlineData(LevelUnit.Amplitude, 0.0, double.NegativeInfinity)]
    [InlineData(LevelUnit.Amplitude, double.NegativeInfinity, double.NaN)]
    [InlineData(LevelUnit.Fraction, 0.0, -60.0)]
    [InlineData(LevelUnit.Fraction, 0.5, -27.0)]
    [InlineData(LevelUnit.Fraction, 1.0, 6.0)]
    [InlineData(LevelUnit.Fraction, 1.5, 6.0)]
    [InlineData(LevelUnit.Fraction, -0.5, -60.0)]
    [InlineData(LevelUnit.Fraction, double.PositiveInfinity, double.NaN)]
    public void A_meters_number_becomes_a_level(LevelUnit unit, double value, double level) =>
        Assert.Equal(level, new LevelScale(unit, MinDb: -60, MaxDb: 6).ToDbfs(value), 1e-5);

    [Fact]
    public void Counts_and_offsets_are_taken_into_a_level()
    {
        Assert.Equal(-20, new LevelScale(LevelUnit.Dbfs, PerCount: 1 / 256.0).ToDbfs(-5120), 1e-5);
        Assert.Equal(-6.0206, new LevelScale(LevelUnit.Amplitude, PerCount: 1 / 32768.0).ToDbfs(16384), 1e-4);
        Assert.Equal(-16.99, new LevelScale(LevelUnit.Dbfs, OffsetDb: 3.01).ToDbfs(-20), 1e-5);
    }

    private static GainScale Curve(List<double> steps, List<double> rises, bool falling)
    {
        List<(double Wire, double Db)> points = [(0, 0)];
        for (var i = 0; i < steps.Count; i++)
            points.Add((points[^1].Wire + steps[i], points[^1].Db + (falling ? -rises[i] : rises[i])));
        return GainScale.Curve(points);
    }
}
