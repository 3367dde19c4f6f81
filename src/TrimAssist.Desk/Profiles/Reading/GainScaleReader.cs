using System.Globalization;
using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>unit</c>, <c>range_db</c>, <c>range</c> and <c>curve</c> of a gain.</summary>
internal static class GainScaleReader
{
    private const int MostPoints = 256;

    private enum Unit
    {
        Db,
        Fraction,
    }

    /// <summary>The scale; <see langword="null"/> where the profile does not spell one out.</summary>
    public static GainScale? Read(TableReader table, ControlProfile control, bool isFader)
    {
        var unit = table.Choice("unit", ("db", Unit.Db), ("fraction", Unit.Fraction));
        var db = table.Range("range_db", isFader ? double.NegativeInfinity : -200, 200);
        (double Low, double High)? wire = control.Midi is { Write: var midi } ? (midi.Low, midi.High) : Wire(table);
        if (table.Node("curve") is { } curve)
        {
            if (unit == Unit.Db)
                table.Problems.Error(curve, "and unit = \"db\" cannot both hold");
            return Curve(table, curve, control.Midi is not null && !IsFraction(curve) ? null : wire, db, isFader);
        }

        if (unit is null && control.Midi is null)
            table.Required("unit", "\"db\" or \"fraction\", or a curve");
        // Over MIDI a value is a count. In dB it is understood only where the counts of its two ends are spelled out.
        if (control.Midi is not null && unit == Unit.Db && table.Has("range"))
            unit = Unit.Fraction;
        else if (control.Midi is not null && unit == Unit.Db)
            table.Problems.Error(table.Table.Entries["unit"].Value, "over MIDI a value is a count: say range, the counts at the two ends of range_db, or a curve");
        if (unit == Unit.Db && table.Has("range"))
            table.Problems.Error(table.Table.Entries["range"].Value, "has no meaning with unit = \"db\"");
        if (db is null)
        {
            if (unit == Unit.Fraction && !table.Has("range_db"))
                table.Required("range_db", "what the ends of the fraction mean, such as [0.0, 54.0]");
            return null;
        }

        var (min, max) = db.Value;
        if (unit == Unit.Db)
            return GainScale.Decibels(min, max);
        if (double.IsNegativeInfinity(min))
            table.Problems.Error(table.Table.Entries["range_db"].Value, "cannot begin at -inf here: write a curve whose first point does");
        var (low, high) = wire ?? (0, 1);
        return GainScale.Even(low, high, min, max);
    }

    // Over MIDI no value is as small as 1: a curve that ends there runs across the range, any other runs over the values themselves.
    private static bool IsFraction(TomlNode curve) =>
        curve is TomlArray { Items: [.., TomlArray { Items: [TomlScalar { Value: double or long } last, _] }] } && Convert.ToDouble(last.Value, CultureInfo.InvariantCulture) <= 1;

    private static (double Low, double High)? Wire(TableReader table) => table.Range("range", -1e9, 1e9);

    private static GainScale? Curve(TableReader table, TomlNode node, (double Low, double High)? wire, (double Low, double High)? db, bool isFader)
    {
        if (node is not TomlArray { Items.Count: >= 2 and <= MostPoints and var count } list)
        {
            table.Problems.Error(node, $"is a list of 2 to {MostPoints} pairs of a value and its dB");
            return null;
        }

        var points = new List<(double Wire, double Db)>(count);
        foreach (var item in list.Items)
        {
            var lowest = isFader && points.Count == 0 ? double.NegativeInfinity : -200;
            if (item is not TomlArray { Items: [var first, var second] })
                table.Problems.Error(item, "is not a pair of a value and its dB");
            else if (table.AsNumber(first, -1e9, 1e9) is { } value && table.AsNumber(second, lowest, 200) is { } gain)
                points.Add((wire is { } w ? w.Low + (value * (w.High - w.Low)) : value, gain));
        }

        if (points.Count != count)
            return null;
        if (!GainScale.RunsOneWay(points))
        {
            table.Problems.Error(node, "has to run one way: values rise from point to point, and so do the dB (or they fall throughout)");
            return null;
        }

        var scale = GainScale.Curve(points);
        if (db is { } range && (Math.Abs(range.Low - scale.MinDb) > 1e-6 || Math.Abs(range.High - scale.MaxDb) > 1e-6))
            table.Problems.Error(table.Table.Entries["range_db"].Value, $"and the curve disagree: the curve runs from {scale.MinDb:0.###} to {scale.MaxDb:0.###} dB");
        return scale;
    }
}
