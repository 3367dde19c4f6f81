using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>sysex</c> with its <c>checksum</c>.</summary>
internal static class ExclusiveReader
{
    /// <summary>The message; <see langword="null"/> where there is none or it is wrong.</summary>
    public static ExclusiveTemplate? Read(TableReader table, ProfileContext context)
    {
        var checksum = Checksum(table);
        if (table.Text("sysex") is not { } text)
            return null;
        var node = table.Table.Entries["sysex"].Value;
        var template = ExclusiveTemplate.Parse(text, checksum ?? Templates.Checksum.Usual, out var fault);
        if (fault is not null)
            table.Problems.Error(node, fault);
        if (template is { HasChecksum: false } && checksum is not null)
            table.Problems.Error(table.Table.Entries["checksum"].Value, "has no place: write {checksum} into sysex");
        if (template is { HasInput: true } && (template.Format(1, 0) is null || template.Format(context.Inputs, 0) is null))
            table.Problems.Error(node, $"cannot carry the numbers of inputs 1 to {context.Inputs}: give the input's place more width");
        return template;
    }

    /// <summary>A message that carries no value.</summary>
    public static ExclusiveTemplate? WithoutValue(TableReader table, ProfileContext context, string meaning)
    {
        table.Required("sysex", meaning);
        var template = Read(table, context);
        if (template is { HasValue: true })
            table.Problems.Error(table.Table.Entries["sysex"].Value, "{value} belongs to a control's own message: this message must not set anything");
        return template;
    }

    private static Checksum? Checksum(TableReader outer)
    {
        if (outer.Inner("checksum") is not { } table)
            return null;
        table.Required("rule", "\"sum-to-zero\", \"sum\" or \"xor\"");
        var rule = table.Choice("rule", ("sum-to-zero", ChecksumRule.SumToZero), ("sum", ChecksumRule.Sum), ("xor", ChecksumRule.ExclusiveOr));
        var from = table.Whole("from", 1, 1023) ?? 1;
        table.RefuseUnknown();
        return new(rule ?? ChecksumRule.SumToZero, from);
    }
}
