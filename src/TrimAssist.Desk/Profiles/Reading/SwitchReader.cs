using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads the switches: pad, mute and phantom.</summary>
internal static class SwitchReader
{
    private static readonly string[] Paths = ["main", "sends", "direct"];

    public static ControlProfile Read(TableReader table, ControlProfile control, ControlFacts facts)
    {
        var writable = control.Kind is ControlKind.Pad or ControlKind.Mute;
        var on = Position(table, "on", writable, "what the desk takes for on");
        var off = Position(table, "off", writable, "what the desk takes for off");
        RefuseUnlessCount(table, "on", on, control);
        RefuseUnlessCount(table, "off", off, control);
        if (on is { } first && off is { } second && first.Means(second))
            table.Problems.Error(table.Table.Entries["off"].Value, "is the same as on");

        if (control.Kind == ControlKind.Pad)
        {
            facts.PadDb = table.Number("pad_db", 0.1, 60);
            facts.PadSharedWith = table.Texts("shared_with") ?? [];
            if (facts.PadDb is null)
                table.Problems.Note(table.Table, "pad_db", "is absent: the pad is read, never changed");
        }

        if (control.Kind == ControlKind.Mute)
            facts.MuteCovers = Covers(table);
        return control with
        {
            On = on ?? new(WireType.Whole, control.Midi?.Write.MostValue ?? 1),
            Off = off ?? new(WireType.Whole, 0),
            Writable = writable && on is not null && off is not null && (control.Kind != ControlKind.Pad || facts.PadDb is not null),
        };
    }

    private static void RefuseUnlessCount(TableReader table, string key, WireValue? position, ControlProfile control)
    {
        if (control.Midi is { } midi && Math.Min(midi.Write.MostValue, midi.Told.MostValue) is var most && position is { } given && (given.Type != WireType.Whole || given.Number < 0 || given.Number > most))
            table.Problems.Error(table.Table.Entries[key].Value, $"over MIDI is a whole number from 0 to {most}");
    }

    /// <summary>A switch's position; a control that is never written may leave it out.</summary>
    public static WireValue? Position(TableReader table, string key, bool required, string meaning) =>
        MessageReader.Constant(table, required ? table.Required(key, meaning) : table.Node(key));

    private static List<string> Covers(TableReader table)
    {
        List<string> covers = [];
        foreach (var node in table.List("covers") ?? [])
        {
            if (table.AsText(node) is not { } word)
                continue;
            if (!Paths.Contains(word, StringComparer.Ordinal))
                table.Problems.Error(node, $"\"{word}\" is none of {string.Join(", ", Paths)}{NearestName.Hint(word, Paths)}");
            else if (covers.Contains(word, StringComparer.Ordinal))
                table.Problems.Error(node, $"\"{word}\" stands here a second time");
            else
                covers.Add(word);
        }

        return covers;
    }
}
