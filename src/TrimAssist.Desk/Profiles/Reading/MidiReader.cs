using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads the MIDI forms of a value: <c>cc</c>, <c>cc14</c>, <c>nrpn</c>, <c>note</c>, <c>poly_pressure</c>, <c>sysex</c>, and <c>range</c>.</summary>
internal static class MidiReader
{
    private static readonly string[] Forms = ["cc", "cc14", "nrpn", "note", "poly_pressure", "sysex"];

    // In the place of a form that is refused, so that the rest of its table is read for what else is wrong.
    private static readonly MidiTemplate Refused = new(MidiMessageKind.Controller, new(true, 0), new(true, 0), null, 0, 127);

    /// <summary>The form of a control's value, for writing and for what the desk tells.</summary>
    public static MidiTemplate ForControl(TableReader table, ProfileContext context)
    {
        var template = Read(table, context) ?? Refused;
        if (template.Kind == MidiMessageKind.PolyPressure)
            table.Problems.Error(table.Table.Entries["poly_pressure"].Value, "carries meters; a control needs another form");
        if (!template.NamesInput && context.Inputs > 1)
            table.Problems.Error(At(table), "is the same for every input: write {input} into it");
        return template;
    }

    /// <summary>The form of a meter's values.</summary>
    public static MidiTemplate ForMeter(TableReader table, ProfileContext context, MeterPacking packing)
    {
        if (Read(table, context) is not { } template)
            return Refused;
        if (packing != MeterPacking.OneInput && template.Exclusive is null)
            table.Problems.Error(table.Table.Entries["packing"].Value, "over MIDI only a sysex message holds the values of many inputs");
        if (packing == MeterPacking.OneInput && !template.NamesInput && context.Inputs > 1)
            table.Problems.Error(At(table), "names no input: write {input} into it, or say packing = \"blob\"");
        if (packing != MeterPacking.OneInput && template.NamesInput)
            table.Problems.Error(At(table), "names one input, but packing says that one message holds many");
        return template;
    }

    private static MidiTemplate? Read(TableReader table, ProfileContext context)
    {
        var given = Array.FindAll(Forms, table.Has);
        foreach (var form in Forms)
            table.Node(form);
        table.Node("range");
        if (table.Node("checksum") is { } checksum && !table.Has("sysex"))
            table.Problems.Error(checksum, "goes with sysex");
        if (given.Length != 1)
        {
            var at = given.Length > 1 ? table.Table.Entries[given[1]].Value : table.Table;
            table.Problems.Error(at, $"over MIDI exactly one of {string.Join(", ", Forms)} says where the value stands");
            return null;
        }

        var template = given[0] is "sysex" ? Exclusive(table, context) : Channelled(table, given[0], context);
        var high = template?.MostValue ?? 16383;
        var range = table.Range("range", 0, high);
        return template is null ? null : template with { Low = (int)(range?.Low ?? 0), High = (int)(range?.High ?? high) };
    }

    private static MidiTemplate? Exclusive(TableReader table, ProfileContext context)
    {
        if (ExclusiveReader.Read(table, context) is not { } exclusive)
            return null;
        if (!exclusive.HasValue)
            table.Problems.Error(table.Table.Entries["sysex"].Value, "needs {value} exactly once");
        return new(MidiMessageKind.SystemExclusive, default, default, exclusive, 0, 0);
    }

    private static MidiTemplate? Channelled(TableReader outer, string form, ProfileContext context)
    {
        if (outer.Inner(form) is not { } table)
            return null;
        var (kind, key, most) = form switch
        {
            "cc" => (MidiMessageKind.Controller, "controller", 119),
            "cc14" => (MidiMessageKind.Controller14, "controller", MidiController.LowerHalfOffset - 1),
            "nrpn" => (MidiMessageKind.Nrpn, "parameter", MidiController.NoParameter - 1),
            "note" => (MidiMessageKind.Note, "note", 127),
            _ => (MidiMessageKind.PolyPressure, "note", 127),
        };
        var channel = Number(table, table.Required("channel", "the MIDI channel, 1 to 16"), context, 1, 16);
        var number = Number(table, table.Required(key, $"the {key}'s number"), context, 0, most);
        table.RefuseUnknown();
        if (channel is not { } c || number is not { } n)
            return null;
        if (kind == MidiMessageKind.Controller14 && Enumerable.Range(1, context.Inputs).Any(input => n.For(input) == MidiController.DataEntry))
            table.Problems.Error(table.Table.Entries[key].Value, "may not be controller 6, which carries the data of parameters");
        return new(kind, c, n, null, 0, 0);
    }

    private static MidiNumber? Number(TableReader table, TomlNode? node, ProfileContext context, int min, int max)
    {
        if (node is not TomlScalar { Value: string text })
            return node is not null && table.AsWhole(node, min, max) is { } number ? new(false, number) : null;
        if (text is not ['{', .., '}'] || MidiNumber.OffsetOf(text[1..^1]) is not { } offset)
        {
            table.Problems.Error(node, $"\"{text}\" is neither a number nor \"{{input}}\", \"{{input+15}}\" or the like");
            return null;
        }

        var perInput = new MidiNumber(true, offset);
        foreach (var input in new[] { 1, context.Inputs })
        {
            if (perInput.For(input) >= min && perInput.For(input) <= max)
                continue;
            table.Problems.Error(node, $"is {perInput.For(input)} for input {input}: it must lie between {min} and {max}");
            return null;
        }

        return perInput;
    }

    private static TomlNode At(TableReader table) => table.Table.Entries[Array.Find(Forms, table.Has)!].Value;
}
