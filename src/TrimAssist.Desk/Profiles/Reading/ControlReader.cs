using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads what all controls have in common, and hands the rest to the reader of gains or switches.</summary>
internal static class ControlReader
{
    public static ControlProfile? Read(TableReader table, ControlKind kind, ProfileContext context, ControlSet set)
    {
        var control = Common(table, kind, context);
        control = kind switch
        {
            ControlKind.Trim => GainReader.Trim(table, control, set.Facts),
            ControlKind.Fader => GainReader.Fader(table, control),
            ControlKind.Pad or ControlKind.Mute or ControlKind.Phantom => SwitchReader.Read(table, control, set.Facts),
            _ => control,
        };
        return control.Write is null && control.Midi is null ? null : control;
    }

    /// <summary>Address, arguments, query, replies and verification.</summary>
    public static ControlProfile Common(TableReader table, ControlKind kind, ProfileContext context)
    {
        var verify = table.Choice("verify", ("echo", VerifyBy.Echo), ("query", VerifyBy.Query)) ?? VerifyBy.Echo;
        if (context.IsMidi)
            return MidiControlReader.Read(table, kind, verify, context);

        var address = MessageReader.Address(table, table.Required("address", "the address under which the control is set"));
        var arguments = MessageReader.Arguments(table, valueAllowed: true) ?? [ArgumentTemplate.Value];
        if (arguments.Count(a => a.IsValue) != 1 && table.Has("arguments"))
            table.Problems.Error(table.Table.Entries["arguments"].Value, "needs \"{value}\" exactly once");
        foreach (var key in new[] { "query", "reply_address", "reply_argument" })
            table.Node(key);
        if (address is null)
            return new() { Kind = kind, Verify = verify };

        var write = new MessageTemplate(address, arguments);
        if (!write.NamesInput && context.Inputs > 1)
            table.Problems.Error(table.Table.Entries["address"].Value, "is the same for every input: write {input} or {socket} here or in arguments");
        var query = QueryReader.Read(table, write);
        if (verify == VerifyBy.Query && table.Node("query") is TomlScalar { Value: "none" })
            table.Problems.Error(table.Table.Entries["verify"].Value, "asks the desk, but query = \"none\" says that it cannot be asked");
        return new() { Kind = kind, Verify = verify, Write = write, Query = query, Replies = ReplyReader.Read(table, write, query) };
    }
}
