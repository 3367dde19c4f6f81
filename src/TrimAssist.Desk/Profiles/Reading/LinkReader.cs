using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>[controls.link]</c>: pairs fixed by the profile, or told by the desk.</summary>
internal static class LinkReader
{
    public static void Read(TableReader table, ProfileContext context, ControlSet set)
    {
        if (table.List("pairs") is { } pairs)
        {
            foreach (var node in pairs)
                AddPair(table, node, context, set);
            if (table.Has("address"))
                table.Problems.Error(table.Table.Entries["address"].Value, "and pairs cannot both hold");
            return;
        }

        var control = ControlReader.Common(table, ControlKind.Link, context);
        set.LinkIsFlag = table.Choice("says", ("partner", false), ("neighbour", true)) ?? false;
        var on = SwitchReader.Position(table, "on", required: false, string.Empty);
        var off = SwitchReader.Position(table, "off", required: false, string.Empty);
        if (!set.LinkIsFlag && (on ?? off) is not null)
            table.Problems.Error(table.Table.Entries[on is null ? "off" : "on"].Value, "goes with says = \"neighbour\"");
        if (control.Write is not null || control.Midi is not null)
            set.Controls.Add(control with { On = on ?? new(Values.WireType.Whole, 1), Off = off ?? new(Values.WireType.Whole, 0) });
    }

    private static void AddPair(TableReader table, TomlNode node, ProfileContext context, ControlSet set)
    {
        if (node is not TomlArray { Items: [var left, var right] })
        {
            table.Problems.Error(node, "is not a pair of input numbers");
            return;
        }

        if (table.AsWhole(left, 1, context.Inputs) is not { } first || table.AsWhole(right, 1, context.Inputs) is not { } second)
            return;
        if (first == second || set.FixedPairs.Exists(p => p.First == first || p.Second == first || p.First == second || p.Second == second))
            table.Problems.Error(node, "names an input that is in a pair already");
        else
            set.FixedPairs.Add((first, second));
    }
}
