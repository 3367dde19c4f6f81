using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>query</c>: <c>"bare"</c>, <c>"none"</c>, or a table with <c>address</c> and <c>arguments</c>.</summary>
internal static class QueryReader
{
    public static MessageTemplate? Read(TableReader table, MessageTemplate write)
    {
        switch (table.Node("query"))
        {
            case null or TomlScalar { Value: "bare" }:
                return Bare(table, write);
            case TomlScalar { Value: "none" }:
                return null;
            case TomlTable inner:
                return ReadTable(new(inner, table.Problems));
            case var other:
                table.Problems.Error(other, "is \"bare\", \"none\" or { address = \"…\", arguments = […] }");
                return null;
        }
    }

    // The address alone asks. Where constants or the input stand before the value, they belong to the question.
    private static MessageTemplate Bare(TableReader table, MessageTemplate write)
    {
        List<ArgumentTemplate> before = [.. write.Arguments.TakeWhile(a => !a.IsValue)];
        if (write.Address.IsFixed && before.TrueForAll(a => !a.NamesInput) && write.NamesInput)
        {
            table.Problems.Error(
                table.Table.Entries.GetValueOrDefault("query")?.Value ?? table.Table,
                "the address alone does not tell which input is asked for: write query = { address = \"…\", arguments = […] } or \"none\"");
        }

        return new(write.Address, before);
    }

    private static MessageTemplate? ReadTable(TableReader table)
    {
        var address = MessageReader.Address(table, table.Required("address", "the address that asks"));
        var arguments = MessageReader.Arguments(table, valueAllowed: false) ?? [];
        table.RefuseUnknown();
        return address is null ? null : new(address, arguments);
    }
}
