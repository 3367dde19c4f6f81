using System.Globalization;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads the MIDI forms: <c>cc</c>, <c>cc14</c>, <c>nrpn</c>, <c>note</c>, <c>poly_pressure</c>, <c>sysex</c>, and <c>range</c>.</summary>
internal static class MidiReader
{
    private static readonly string[] Forms = ["cc", "cc14", "nrpn", "note", "poly_pressure", "sysex"];

    public static MidiTemplate? Read(TableReader table, bool forMeter)
    {
        var given = Array.FindAll(Forms, table.Has);
        foreach (var form in Forms)
            table.Node(form);
        table.Node("range");
        if (given.Length != 1)
        {
            var at = given.Length > 1 ? table.Table.Entries[given[1]].Value : table.Table;
            table.Problems.Error(at, $"over MIDI exactly one of {string.Join(", ", Forms)} says where the value stands");
            return null;
        }

        var template = given[0] is "sysex" ? Exclusive(table) : Channelled(table, given[0]);
        var high = template?.Kind is MidiMessageKind.Controller14 or MidiMessageKind.Nrpn or MidiMessageKind.SystemExclusive ? 16383 : 127;
        var range = table.Range("range", 0, high);
        if (!forMeter && template?.Kind == MidiMessageKind.PolyPressure)
            table.Problems.Error(table.Table.Entries["poly_pressure"].Value, "carries meters; a control needs another form");
        return template is null ? null : template with { Low = (int)(range?.Low ?? 0), High = (int)(range?.High ?? high) };
    }

    private static MidiTemplate? Channelled(TableReader outer, string form)
    {
        if (outer.Inner(form) is not { } table)
            return null;
        var (kind, key, most) = form switch
        {
            "cc" => (MidiMessageKind.Controller, "controller", 119),
            "cc14" => (MidiMessageKind.Controller14, "controller", 31),
            "nrpn" => (MidiMessageKind.Nrpn, "parameter", 16383),
            "note" => (MidiMessageKind.Note, "note", 127),
            _ => (MidiMessageKind.PolyPressure, "note", 127),
        };
        var channel = Number(table, table.Required("channel", "the MIDI channel, 1 to 16"), 1, 16);
        var number = Number(table, table.Required(key, $"the {key}'s number"), 0, most);
        table.RefuseUnknown();
        return channel is { } c && number is { } n ? new(kind, c, n, null, 0, 0) : null;
    }

    private static MidiNumber? Number(TableReader table, TomlNode? node, int min, int max)
    {
        if (node is TomlScalar { Value: string text })
        {
            var sum = text.StartsWith("{input", StringComparison.Ordinal) && text.EndsWith('}') ? text[6..^1] : "?";
            var offset = 0;
            if (sum.Length == 0 || (sum[0] is '+' or '-' && int.TryParse(sum, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out offset)))
                return new(true, offset);
            table.Problems.Error(node, $"\"{text}\" is neither a number nor \"{{input}}\", \"{{input+15}}\" or the like");
            return null;
        }

        return node is not null && table.AsWhole(node, min, max) is { } number ? new(false, number) : null;
    }

    private static MidiTemplate? Exclusive(TableReader table)
    {
        if (table.Text("sysex") is not { } text)
            return null;
        var node = table.Table.Entries["sysex"].Value;
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var values = 0;
        foreach (var word in words)
        {
            if (word.StartsWith("{value", StringComparison.Ordinal))
                values++;
            if (!IsExclusiveWord(word))
                table.Problems.Error(node, $"\"{word}\" is neither a byte in hexadecimal nor {{input}}, {{value:2}}, {{checksum}} or the like");
        }

        if (words.Length < 3 || words[0] is not "F0" || words[^1] is not "F7")
            table.Problems.Error(node, "a system exclusive message begins with F0 and ends with F7");
        if (values != 1)
            table.Problems.Error(node, "needs {value} exactly once");
        return new(MidiMessageKind.SystemExclusive, default, default, text, 0, 0);
    }

    private static bool IsExclusiveWord(string word)
    {
        if (word.Length == 2)
            return byte.TryParse(word, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var value) && (value < 0x80 || word is "F0" or "F7");
        if (word[0] != '{' || word[^1] != '}')
            return false;
        var inner = word[1..^1];
        var colon = inner.IndexOf(':', StringComparison.Ordinal);
        var width = colon < 0 ? "1" : inner[(colon + 1)..];
        var name = colon < 0 ? inner : inner[..colon];
        return width is "1" or "2" or "3" && (name is "value" or "checksum" || IsInputWord(name));
    }

    private static bool IsInputWord(string name) =>
        name is "input" || (name.StartsWith("input", StringComparison.Ordinal) && name[5] is '+' or '-'
            && int.TryParse(name.AsSpan(5), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _));
}
