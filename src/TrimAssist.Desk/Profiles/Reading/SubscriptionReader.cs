using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>[[subscription]]</c>.</summary>
internal static class SubscriptionReader
{
    private const int Most = 64;

    public static IReadOnlyList<SubscriptionProfile> Read(TableReader root, ProfileContext context)
    {
        List<SubscriptionProfile> subscriptions = [];
        var tables = root.Tables("subscription");
        if (tables.Count > Most)
            root.Problems.Error(tables[Most].Table, $"is one of more than {Most} subscriptions");

        foreach (var table in tables)
        {
            var exclusive = context.IsMidi ? ExclusiveReader.WithoutValue(table, context, "the message to send") : null;
            var message = context.IsMidi ? null : Message(table);
            TimeSpan? renew = table.Number("renew_s", 0.1, 3600) is { } seconds ? TimeSpan.FromSeconds(seconds) : null;
            table.RefuseUnknown();
            if (message is not null || exclusive is not null)
                subscriptions.Add(new(message, exclusive, renew));
        }

        return subscriptions;
    }
    private static MessageTemplate? Message(TableReader table)
    {
        var address = MessageReader.Address(table, table.Required("address", "the address to send"));
        var arguments = MessageReader.Arguments(table, valueAllowed: false) ?? [];
        return address is null ? null : new(address, arguments);
    }
}
