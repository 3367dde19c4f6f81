using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Safety;

/// <summary>Refuses MIDI profiles in which two things travel in messages that could be the same, or a question could set a value.</summary>
internal static class MidiSafety
{
    private const string Apart = "nobody could tell the two apart";

    public static void Check(DeskProfile profile, TableReader root)
    {
        List<Claim> claims = [];
        for (var i = 0; i < profile.Meters.Count; i++)
            Add(claims, root, Meter(profile.Meters[i], "meters", i, root), profile.Inputs);
        for (var i = 0; i < profile.Overloads.Count; i++)
            Add(claims, root, Meter(profile.Overloads[i], "overload", i, root), profile.Inputs);
        foreach (var control in profile.Controls.Where(control => control.Midi is not null))
        {
            var (name, table) = (control.Kind.ToString().ToLowerInvariant(), TableOf(control, root));
            Add(claims, root, new(name, control.Midi!.Told, 1, table), profile.Inputs);
            CheckSilent(profile, root, control.Midi.Query, table.Entries.GetValueOrDefault("query")?.Value ?? table, "query");
        }

        CheckWrites(profile, root);
        for (var i = 0; i < profile.Subscriptions.Count; i++)
        {
            var table = (TomlTable)((TomlArray)root.Table.Entries["subscription"].Value).Items[i];
            CheckSilent(profile, root, profile.Subscriptions[i].Exclusive, table.Entries.GetValueOrDefault("sysex")?.Value ?? table, "subscription");
        }
    }

    private static Claim Meter(MeterProfile meter, string key, int index, TableReader root) => new(
        $"[[{key}]] number {index + 1}",
        meter.Midi!,
        Math.Max(1, meter.Count),
        ((TomlArray)root.Table.Entries[key].Value).Items[index]);

    private static void Add(List<Claim> claims, TableReader root, Claim claim, int inputs)
    {
        // One message may hold the values of several meters and flags, never of a control and anything else.
        foreach (var earlier in claims)
        {
            if (MidiForms.Collide(claim.Form, claim.Count, earlier.Form, earlier.Count, inputs))
                root.Problems.Error(claim.Node, $"is told in the messages of the {earlier.Name}: {Apart}");
        }

        claims.Add(claim);
    }

    private static void CheckWrites(DeskProfile profile, TableReader root)
    {
        for (var i = 0; i < profile.Controls.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                if (profile.Controls[i].Midi is { } later && profile.Controls[j].Midi is { } earlier && MidiForms.Collide(later.Write, 1, earlier.Write, 1, profile.Inputs))
                    root.Problems.Error(TableOf(profile.Controls[i], root), $"is set by the messages of the {profile.Controls[j].Kind.ToString().ToLowerInvariant()}: {Apart}");
            }
        }
    }

    private static void CheckSilent(DeskProfile profile, TableReader root, ExclusiveTemplate? message, TomlNode node, string what)
    {
        foreach (var control in profile.Controls)
        {
            if (message is not null && control.Midi?.Write.Exclusive is { } write && ExclusiveTemplate.CouldMeet(message, 1, write, 1, profile.Inputs))
                root.Problems.Error(node, $"would set the {control.Kind.ToString().ToLowerInvariant()}: a {what} must not carry a value to a control");
        }
    }

    private static TomlTable TableOf(ControlProfile control, TableReader root) =>
        (TomlTable)((TomlTable)root.Table.Entries["controls"].Value).Entries[control.Kind.ToString().ToLowerInvariant()].Value;

    private sealed record Claim(string Name, MidiTemplate Form, int Count, TomlNode Node);
}
