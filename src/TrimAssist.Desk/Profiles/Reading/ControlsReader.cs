using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>[controls.…]</c>.</summary>
internal static class ControlsReader
{
    private static readonly (string Key, ControlKind Kind)[] Kinds =
    [
        ("trim", ControlKind.Trim),
        ("pad", ControlKind.Pad),
        ("mute", ControlKind.Mute),
        ("phantom", ControlKind.Phantom),
        ("fader", ControlKind.Fader),
        ("source", ControlKind.Source),
        ("label", ControlKind.Label),
        ("link", ControlKind.Link),
    ];

    public static ControlSet Read(TableReader root, ProfileContext context)
    {
        var set = new ControlSet();
        if (root.Inner("controls") is not { } table)
            return set;

        foreach (var (key, kind) in Kinds)
        {
            if (table.Inner(key) is not { } inner)
                continue;
            set.Tables[kind] = inner.Table;
            if (kind == ControlKind.Link)
                LinkReader.Read(inner, context, set);
            else if (ControlReader.Read(inner, kind, context, set) is { } control)
                set.Controls.Add(control);
            inner.RefuseUnknown();
        }

        DropBareValues(set.Controls);
        table.RefuseUnknown();
        if (table.Table.Entries.TryGetValue("trim", out var trim) && !set.Facts.TrimWritable)
            root.Problems.Note(trim.Value, "range_db", "is absent, and there is no curve: the trim is read, never changed");
        return set;
    }

    // Where a word tells the controls of one address apart, a value without the word could be any of them.
    private static void DropBareValues(List<ControlProfile> controls)
    {
        var addresses = controls.Select(control => control.Write?.Address.Text).ToList();
        for (var i = 0; i < controls.Count; i++)
        {
            if (addresses[i] is { } mine && addresses.Count(other => string.Equals(other, mine, StringComparison.Ordinal)) > 1)
                controls[i] = controls[i] with { Replies = [.. controls[i].Replies.Where(reply => reply.ExactCount == 0)] };
        }
    }
}

/// <summary>The controls of a profile while it is read.</summary>
internal sealed class ControlSet
{
    public List<ControlProfile> Controls { get; } = [];

    public List<(int First, int Second)> FixedPairs { get; } = [];

    public bool LinkIsFlag { get; set; }

    public Dictionary<ControlKind, TomlTable> Tables { get; } = [];

    public ControlFacts Facts { get; } = new();
}

/// <summary>What the domain has to know of the controls.</summary>
internal sealed class ControlFacts
{
    public bool TrimWritable { get; set; }

    public bool TrimIsDigital { get; set; }

    public double StepDb { get; set; }

    public IReadOnlyList<string> TrimSharedWith { get; set; } = [];

    public IReadOnlyList<string> PadSharedWith { get; set; } = [];

    public double? PadDb { get; set; }

    public IReadOnlyList<string> MuteCovers { get; set; } = [];
}
