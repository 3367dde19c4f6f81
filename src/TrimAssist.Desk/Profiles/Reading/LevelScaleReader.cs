using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads what a meter's numbers mean: <c>unit</c>, <c>range_db</c>, <c>count_db</c>, <c>count_full</c>, <c>offset_db</c>.</summary>
internal static class LevelScaleReader
{
    public static LevelScale Read(TableReader table, MeterQuantity quantity, MeterElement? element, MidiTemplate? midi)
    {
        if (quantity == MeterQuantity.Overload)
            return new(LevelUnit.Dbfs);

        if (midi is not null)
            return OverMidi(table, midi);
        var given = table.Required("unit", "\"dbfs\", \"amplitude\" (1.0 is full scale) or \"fraction\" (0 to 1 across range_db)") is not null;
        var unit = (given ? table.Choice("unit", ("dbfs", LevelUnit.Dbfs), ("amplitude", LevelUnit.Amplitude), ("fraction", LevelUnit.Fraction)) : null)
            ?? LevelUnit.Dbfs;
        var (low, high) = Range(table, unit);
        return new(unit, PerCount(table, unit, element), low, high, table.Number("offset_db", -200, 200) ?? 0);
    }

    private static (double Low, double High) Range(TableReader table, LevelUnit unit)
    {
        var range = table.Range("range_db", -400, 100);
        if (unit == LevelUnit.Fraction && !table.Has("range_db"))
            table.Required("range_db", "what the fractions 0 and 1 mean, such as [-60.0, 0.0]");
        if (unit != LevelUnit.Fraction && table.Has("range_db"))
            table.Problems.Error(table.Table.Entries["range_db"].Value, "has a meaning with unit = \"fraction\" only");
        return range ?? (-60, 0);
    }

    // Counts across a range of dB unless the profile says what one count is, or that they are linear.
    private static LevelScale OverMidi(TableReader table, MidiTemplate midi)
    {
        var unit = table.Choice("unit", ("dbfs", LevelUnit.Dbfs), ("amplitude", LevelUnit.Amplitude), ("fraction", LevelUnit.Fraction)) ?? LevelUnit.Fraction;
        var countDb = table.Number("count_db", -100, 100);
        var range = table.Range("range_db", -400, 100);
        var offset = table.Number("offset_db", -200, 200) ?? 0;
        var perCount = 1.0 / (midi.High - midi.Low);
        if (countDb is not null && (unit != LevelUnit.Dbfs || range is not null))
            table.Problems.Error(table.Table.Entries["count_db"].Value, "goes with unit = \"dbfs\" and without range_db");
        if (countDb is { } perOne && unit == LevelUnit.Dbfs)
            return new(unit, perOne, OffsetDb: offset);
        if (unit == LevelUnit.Amplitude)
            return new(unit, perCount, OffsetDb: offset, Zero: midi.Low);
        if (range is null && !table.Has("range_db"))
            table.Required("range_db", "what the ends of the range mean, such as [-60.0, 0.0]");
        return new(LevelUnit.Fraction, perCount, range?.Low ?? -60, range?.High ?? 0, offset, midi.Low);
    }

    private static double PerCount(TableReader table, LevelUnit unit, MeterElement? element)
    {
        var countDb = table.Number("count_db", -100, 100);
        var countFull = table.Number("count_full", 1, uint.MaxValue);
        var whole = element is MeterElement.Whole16 or MeterElement.Whole32;
        if (countDb is 0)
            table.Problems.Error(table.Table.Entries["count_db"].Value, "must not be 0");
        if (countDb is not null && countFull is not null)
            table.Problems.Error(table.Table.Entries["count_full"].Value, "and count_db cannot both hold");
        if (countDb is not null && unit != LevelUnit.Dbfs)
            table.Problems.Error(table.Table.Entries["count_db"].Value, "goes with unit = \"dbfs\"; for other units say count_full, the count that means 1.0");
        if (countFull is not null && unit == LevelUnit.Dbfs)
            table.Problems.Error(table.Table.Entries["count_full"].Value, "goes with unit = \"amplitude\" or \"fraction\"; for dBFS say count_db");
        if (whole && countDb is null && countFull is null)
            table.Required(unit == LevelUnit.Dbfs ? "count_db" : "count_full", unit == LevelUnit.Dbfs ? "how many dB one count is" : "the count that means 1.0");
        return countDb ?? 1 / (countFull ?? 1);
    }
}
