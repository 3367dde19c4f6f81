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
        if (context.IsMidi && tables.Count > 0)
            root.Problems.Error(tables[0].Table, "MIDI has no subscriptions");
        if (tables.Count > Most)
            root.Problems.Error(tables[Most].Table, $"is one of more than {Most} subscriptions");

        foreach (var table in tables)
        {
            var address = MessageReader.Address(table, table.Required("address", "the address to send"));
            var arguments = MessageReader.Arguments(table, valueAllowed: false) ?? [];
            var renew = table.Number("renew_s", 0.1, 3600);
            table.RefuseUnknown();
            if (address is not null)
                subscriptions.Add(new(new MessageTemplate(address, arguments), renew is { } seconds ? TimeSpan.FromSeconds(seconds) : null));
        }

        return subscriptions;
    }
}
