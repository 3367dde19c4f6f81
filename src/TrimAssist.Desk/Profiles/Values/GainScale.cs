namespace TrimAssist.Desk.Profiles.Values;

/// <summary>How a gain travels: dB as they are, a fraction across a range, or a curve of straight pieces; both ways.</summary>
public sealed class GainScale
{
    // A float of 24 bits carries seven digits; a read-back this far beyond an end is rounding, not another value.
    private const double Slack = 1e-4;

    private readonly double[] _wire;
    private readonly double[] _db;

    private GainScale(double[] wire, double[] db, bool isDecibels)
    {
        _wire = wire;
        _db = db;
        IsDecibels = isDecibels;
        MinDb = db.Min();
        MaxDb = db.Max();
    }

    /// <summary>Whether the desk speaks dB itself, so that it may report values beyond the range.</summary>
    public bool IsDecibels { get; }

    /// <summary>The lowest gain in dB; −∞ where a fader's curve ends in silence.</summary>
    public double MinDb { get; }

    /// <summary>The highest gain in dB.</summary>
    public double MaxDb { get; }

    /// <summary>Values are dB.</summary>
    public static GainScale Decibels(double minDb, double maxDb) => new([minDb, maxDb], [minDb, maxDb], isDecibels: true);

    /// <summary>Values run evenly from <paramref name="low"/> to <paramref name="high"/> across a range in dB.</summary>
    public static GainScale Even(double low, double high, double minDb, double maxDb) => new([low, high], [minDb, maxDb], isDecibels: false);

    /// <summary>Values run in straight pieces through the points.</summary>
    /// <param name="points">Value and dB; values rise, dB rise throughout or fall throughout.</param>
    /// <exception cref="ArgumentException">Fewer than two points, or the points do not run one way.</exception>
    public static GainScale Curve(IReadOnlyList<(double Wire, double Db)> points)
    {
        if (!RunsOneWay(points))
            throw new ArgumentException("A curve needs two or more points that run one way.", nameof(points));
        return new([.. points.Select(p => p.Wire)], [.. points.Select(p => p.Db)], isDecibels: false);
    }

    /// <summary>Whether points can be a curve: both ways unambiguous.</summary>
    public static bool RunsOneWay(IReadOnlyList<(double Wire, double Db)> points)
    {
        if (points.Count < 2)
            return false;
        var rising = points[1].Db > points[0].Db;
        for (var i = 1; i < points.Count; i++)
        {
            if (!(points[i].Wire > points[i - 1].Wire) || !(rising ? points[i].Db > points[i - 1].Db : points[i].Db < points[i - 1].Db))
                return false;
        }

        return true;
    }

    /// <summary>The most dB that lie between two neighbouring whole values.</summary>
    public double DbPerCount
    {
        get
        {
            var most = 0.0;
            for (var i = 1; i < _wire.Length; i++)
            {
                if (double.IsFinite(_db[i - 1]))
                    most = Math.Max(most, Math.Abs((_db[i] - _db[i - 1]) / (_wire[i] - _wire[i - 1])));
            }

            return most;
        }
    }

    /// <summary>The gain that a value means; <see langword="null"/> where the value lies outside the scale or is no number.</summary>
    public double? ToDb(double wire)
    {
        if (!double.IsFinite(wire))
            return IsDecibels && double.IsNegativeInfinity(MinDb) && double.IsNegativeInfinity(wire) ? wire : null;
        if (IsDecibels)
            return wire;

        var slack = Slack * (_wire[^1] - _wire[0]);
        if (wire < _wire[0] - slack || wire > _wire[^1] + slack)
            return null;
        return Interpolate(_wire, _db, Math.Clamp(wire, _wire[0], _wire[^1]));
    }

    /// <summary>The value to send for a gain; <see langword="null"/> outside the range.</summary>
    public double? ToWire(double db)
    {
        if (!double.IsFinite(db) || db < MinDb - 1e-9 || db > MaxDb + 1e-9)
            return null;
        if (IsDecibels)
            return db;
        return _db[^1] > _db[0]
            ? Interpolate(_db, _wire, Math.Clamp(db, MinDb, MaxDb))
            : Interpolate([.. _db.Reverse()], [.. _wire.Reverse()], Math.Clamp(db, MinDb, MaxDb));
    }

    private static double Interpolate(ReadOnlySpan<double> from, ReadOnlySpan<double> to, double at)
    {
        var i = 1;
        while (i < from.Length - 1 && at > from[i])
            i++;
        if (at <= from[i - 1])
            return to[i - 1];
        if (at >= from[i] || double.IsNegativeInfinity(to[i - 1]) || double.IsNegativeInfinity(from[i - 1]))
            return to[i];
        return to[i - 1] + ((at - from[i - 1]) / (from[i] - from[i - 1]) * (to[i] - to[i - 1]));
    }
}
