using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads what all controls over MIDI have in common: where the value stands, <c>query</c>, <c>reply</c> and <c>verify</c>.</summary>
internal static class MidiControlReader
{
    public static ControlProfile Read(TableReader table, ControlKind kind, VerifyBy verify, ProfileContext context)
    {
        if (kind == ControlKind.Label)
            table.Problems.Error(table.Table, "cannot travel over MIDI");
        var write = MidiReader.ForControl(table, context);
        var told = table.Inner("reply") is { } reply ? Told(reply, kind, write, context) : write;
        var query = Query(table, write, context);
        if (verify == VerifyBy.Query && query is null)
            table.Problems.Error(table.Table.Entries["verify"].Value, "asks the desk, but nothing can ask here: say query = { sysex = \"…\" }");
        if (kind is ControlKind.Trim or ControlKind.Pad or ControlKind.Mute && query is null)
            table.Problems.Note(table.Table, "query", "cannot be had: the value is known once the desk tells it by itself");
        return new() { Kind = kind, Verify = verify, Midi = new(write, query, told) };
    }

    private static MidiTemplate Told(TableReader table, ControlKind kind, MidiTemplate write, ProfileContext context)
    {
        var told = MidiReader.ForControl(table, context);
        table.RefuseUnknown();
        // One scale serves both ways.
        if (kind is ControlKind.Trim or ControlKind.Fader && (told.Low, told.High) != (write.Low, write.High))
            table.Problems.Error(table.Table, $"counts from {told.Low} to {told.High}, and the control itself from {write.Low} to {write.High}: say the same range in both");
        return told;
    }

    // Only a system exclusive message can be sent without a value.
    private static ExclusiveTemplate? Query(TableReader table, MidiTemplate write, ProfileContext context)
    {
        switch (table.Node("query"))
        {
            case null or TomlScalar { Value: "bare" }:
                return write.Exclusive?.Bare();
            case TomlScalar { Value: "none" }:
                return null;
            case TomlTable inner:
                var question = new TableReader(inner, table.Problems);
                var query = ExclusiveReader.WithoutValue(question, context, "the message that asks");
                question.RefuseUnknown();
                return query;
            case var other:
                table.Problems.Error(other, "over MIDI is \"bare\", \"none\" or { sysex = \"…\" }");
                return null;
        }
    }
}
