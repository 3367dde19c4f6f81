using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Works out in which forms the desk tells a control's value.</summary>
internal static class ReplyReader
{
    public static IReadOnlyList<ReplyForm> Read(TableReader table, MessageTemplate write, MessageTemplate? query)
    {
        var given = MessageReader.Address(table, table.Node("reply_address"));
        var index = table.Whole("reply_argument", 0, 1023);
        List<ReplyForm> forms = [];
        var reply = given ?? write.Address;
        if (given is null || string.Equals(given.Text, write.Address.Text, StringComparison.Ordinal))
            forms.Add(Echo(write, index));
        else
            forms.Add(Told(table, write, query, reply, index ?? 0));

        // The answer to a bare question may be the value alone, without the words that a change needs.
        if (given is null && index is null && write.ValueIndex > 0 && !write.Address.IsFixed)
            forms.Add(new(write.Address, [], 0, ExactCount: 1));
        return forms;
    }

    private static ReplyForm Echo(MessageTemplate write, int? index)
    {
        List<(int, ArgumentTemplate)> match = [];
        var value = index ?? write.ValueIndex;
        for (var i = 0; i < write.Arguments.Count && value == write.ValueIndex; i++)
        {
            if (!write.Arguments[i].IsValue && (i < value || write.Arguments[i].NamesInput))
                match.Add((i, write.Arguments[i]));
        }

        return new(write.Address, match, value);
    }

    private static ReplyForm Told(TableReader table, MessageTemplate write, MessageTemplate? query, AddressTemplate reply, int index)
    {
        if (!reply.IsFixed || !write.NamesInput)
            return new(reply, [], index);

        // The address does not say which input is meant, so an argument has to: the one that named it in the question or the change.
        foreach (var message in new[] { query, write })
        {
            if (message is null)
                continue;
            var named = Enumerable.Range(0, message.Arguments.Count).Where(i => message.Arguments[i].NamesInput && i != index).ToList();
            if (named.Count > 0)
                return new(reply, [.. named.Select(i => (i, message.Arguments[i]))], index);
        }

        table.Problems.Error(
            table.Table.Entries["reply_address"].Value,
            "does not tell which input it speaks of, and no argument beside the value does either");
        return new(reply, [], index);
    }
}
