using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads the gains: trim and fader.</summary>
internal static class GainReader
{
    private const double UsualStepDb = 0.1;

    public static ControlProfile Trim(TableReader table, ControlProfile control, ControlFacts facts)
    {
        var scale = GainScaleReader.Read(table, control, isFader: false);
        var stage = table.Choice("stage", ("analogue", false), ("digital", true));
        // Over MIDI a setting is a whole number of counts: finer than one of them nothing can be set or told.
        var countDb = control.Midi is null || scale is null ? 0 : scale.DbPerCount;
        var step = table.Number("step_db", 0.001, 60) ?? Math.Max(UsualStepDb, countDb);
        var tolerance = table.Number("tolerance_db", 0, 20) ?? Math.Max(0.4 * step, Math.Min(0.51 * countDb, 0.9 * step));
        if (scale is not null && step > scale.MaxDb - scale.MinDb + 1e-9)
            table.Problems.Error(table.Table.Entries["step_db"].Value, "is larger than the range");
        if (tolerance >= step && table.Has("tolerance_db"))
            table.Problems.Error(table.Table.Entries["tolerance_db"].Value, $"must be smaller than the step of {step:0.###} dB, or two settings could not be told apart");

        if (0.5 * countDb > tolerance)
            table.Problems.Error(table.Table.Entries.GetValueOrDefault("step_db")?.Value ?? table.Table, $"is too fine for a message in which one count is {countDb:0.###} dB");

        var type = ValueType(table, control);
        if (type == WireType.Flag && scale is not null && step < scale.MaxDb - scale.MinDb - 1e-9)
            table.Problems.Error(table.Table.Entries["value_type"].Value, "true and false carry two settings only: step_db has to span the range");
        if (type == WireType.Flag && scale is not null)
            scale = GainScale.Even(0, 1, scale.MinDb, scale.MaxDb);
        facts.StepDb = step;
        facts.TrimIsDigital = stage ?? false;
        facts.TrimSharedWith = table.Texts("shared_with") ?? [];
        facts.TrimWritable = scale is not null && (table.Has("range_db") || table.Has("curve"));
        return control with { Scale = scale ?? AsHeard, ValueType = type, ToleranceDb = tolerance, Writable = facts.TrimWritable };
    }

    public static ControlProfile Fader(TableReader table, ControlProfile control)
    {
        var scale = GainScaleReader.Read(table, control, isFader: true);
        return control with { Scale = scale ?? AsHeard, ValueType = ValueType(table, control) };
    }

    // A scale for reading only: the desk's dB as they come.
    private static GainScale AsHeard => GainScale.Decibels(double.NegativeInfinity, double.PositiveInfinity);

    private static WireType ValueType(TableReader table, ControlProfile control) => control.Midi is not null ? WireType.Whole : table.Choice(
        "value_type",
        ("float", WireType.Real),
        ("int", WireType.Whole),
        ("double", WireType.LongReal),
        ("string", WireType.Text),
        ("bool", WireType.Flag)) ?? WireType.Real;
}
