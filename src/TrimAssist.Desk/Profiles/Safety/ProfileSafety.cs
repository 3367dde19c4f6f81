using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Safety;

/// <summary>Refuses profiles whose parts contradict one another, and above all those by which anything but a confirmed change could set a value.</summary>
internal static class ProfileSafety
{
    public static void Check(DeskProfile profile, TableReader root)
    {
        CheckSubscriptions(profile, root);
        CheckQueries(profile, root);
        CheckWritesApart(profile, root);
        CheckRepliesApart(profile, root);
        CheckMetersApart(profile, root);
        CheckSockets(profile, root);
        if (profile.Connection.Transport == DeskTransportKind.Midi)
            MidiSafety.Check(profile, root);
    }

    private static void CheckSubscriptions(DeskProfile profile, TableReader root)
    {
        for (var i = 0; i < profile.Subscriptions.Count; i++)
        {
            if (profile.Subscriptions[i].Message is { } message && WriteForms.SetBy(message, profile) is { } control)
                root.Problems.Error(At(Item(root, "subscription", i), "address"), $"would set the {Name(control)}: a subscription must not carry a value to a control");
        }
    }

    private static void CheckQueries(DeskProfile profile, TableReader root)
    {
        foreach (var asked in profile.Controls)
        {
            if (asked.Query is { } query && WriteForms.SetBy(query, profile) is { } control)
                root.Problems.Error(At(Table(root, asked), "query"), $"would set the {Name(control)}: a query must not carry a value to a control");
        }
    }

    private static void CheckWritesApart(DeskProfile profile, TableReader root)
    {
        for (var i = 0; i < profile.Controls.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var (later, earlier) = (profile.Controls[i], profile.Controls[j]);
                if (later.Write is { } write && earlier.Write is { } other && WriteForms.Collide(write, other, profile.Inputs))
                    root.Problems.Error(At(Table(root, later), "address"), $"is what the {Name(earlier)} has: the desk could not tell the two apart");
            }
        }
    }

    private static void CheckRepliesApart(DeskProfile profile, TableReader root)
    {
        for (var i = 0; i < profile.Controls.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var (later, earlier) = (profile.Controls[i], profile.Controls[j]);
                if (later.Replies.Any(a => earlier.Replies.Any(b => SameReply(a, b))))
                    root.Problems.Error(At(Table(root, later), "reply_address"), $"answers as the {Name(earlier)} does: nobody could tell the two apart");
            }
        }
    }

    private static bool SameReply(ReplyForm left, ReplyForm right) =>
        string.Equals(left.Address.Text, right.Address.Text, StringComparison.Ordinal)
        && left.ValueIndex == right.ValueIndex
        && !left.Match.Any(a => a.Argument.Constant is { } mine
            && right.Match.Any(b => b.Index == a.Index && (b.Argument.Constant is { } theirs ? !mine.Means(theirs) : false)))
        && !left.Match.Any(a => a.Argument.NamesInput && right.Match.Any(b => b.Index == a.Index && !string.Equals(a.Argument.Text, b.Argument.Text, StringComparison.Ordinal)));

    private static void CheckMetersApart(DeskProfile profile, TableReader root)
    {
        for (var i = 0; i < profile.Meters.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var (later, earlier) = (profile.Meters[i], profile.Meters[j]);
                if (later.Quantity == earlier.Quantity && later.CoveredInputs(profile.Inputs).Intersect(earlier.CoveredInputs(profile.Inputs)).Any())
                    root.Problems.Error(At(Item(root, "meters", i), "address"), $"gives the {(later.Quantity == MeterQuantity.Peak ? "peak" : "RMS")} of inputs that an earlier [[meters]] gives already");
            }

            if (profile.Meters[i].Address is { } meter && profile.Controls.FirstOrDefault(c => c.Replies.Any(r => SameText(r.Address, meter))) is { } control)
                root.Problems.Error(At(Item(root, "meters", i), "address"), $"is where the {Name(control)} is told: nobody could tell the two apart");
        }
    }

    private static bool SameText(AddressTemplate left, AddressTemplate right) => string.Equals(left.Text, right.Text, StringComparison.Ordinal);

    private static void CheckSockets(DeskProfile profile, TableReader root)
    {
        const string Unknown = "needs {socket}, but there is no [controls.source] that tells which socket feeds an input";
        var told = profile.Control(ControlKind.Source) is not null;
        foreach (var control in profile.Controls)
        {
            var uses = control.Write is { HasSocket: true } || control.Query is { HasSocket: true } || control.Replies.Any(r => r.Address.HasSocket);
            if (uses && control.Kind == ControlKind.Source)
                root.Problems.Error(At(Table(root, control), "address"), "cannot need {socket}: this control is what tells it");
            else if (uses && !told)
                root.Problems.Error(At(Table(root, control), "address"), Unknown);
        }

        for (var i = 0; i < profile.Meters.Count && !told; i++)
        {
            if (profile.Meters[i].Address is { HasSocket: true })
                root.Problems.Error(At(Item(root, "meters", i), "address"), Unknown);
        }
    }

    private static string Name(ControlProfile control) => control.Kind.ToString().ToLowerInvariant();

    private static TomlTable Item(TableReader root, string key, int index) => (TomlTable)((TomlArray)root.Table.Entries[key].Value).Items[index];

    private static TomlTable Table(TableReader root, ControlProfile control) =>
        (TomlTable)((TomlTable)root.Table.Entries["controls"].Value).Entries[Name(control)].Value;

    private static TomlNode At(TomlTable table, string key) => (table.Entries.GetValueOrDefault(key) ?? table.Entries.GetValueOrDefault("address"))?.Value ?? table;
}
