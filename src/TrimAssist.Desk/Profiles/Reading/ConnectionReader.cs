using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads <c>[connection]</c>.</summary>
internal static class ConnectionReader
{
    public static ConnectionProfile? Read(TableReader root)
    {
        if (root.Required("connection", "where the desk is and how to reach it") is null || root.Inner("connection") is not { } table)
            return null;

        var transport = table.Choice("transport", ("udp", DeskTransportKind.Udp), ("tcp", DeskTransportKind.Tcp), ("midi", DeskTransportKind.Midi))
            ?? DeskTransportKind.Udp;
        return transport == DeskTransportKind.Midi ? ReadMidi(table) : ReadNetwork(table, transport);
    }

    private static ConnectionProfile ReadMidi(TableReader table)
    {
        const string Network = "rtp:";
        var port = table.RequiredText("port", "the name of a MIDI port, or rtp:HOST:PORT");
        var isNetwork = port is not null && port.StartsWith(Network, StringComparison.Ordinal);
        var partner = isNetwork ? HostAndPort.Parse(port![Network.Length..]) : null;
        if (isNetwork && partner is null or { Port: 0 or 65535 })
            table.Problems.Error(table.Table.Entries["port"].Value, "a network MIDI port is written as rtp:HOST:PORT, with a port from 1 to 65534: the one above it is used too");
        var connection = new ConnectionProfile
        {
            Transport = DeskTransportKind.Midi,
            MidiPort = port,
            Desk = partner,
            Listen = isNetwork ? Address(table, table.Node("listen"), anyPort: true) : null,
            AcceptFrom = isNetwork ? Hosts(table) : [],
        };
        table.RefuseUnknown();
        return connection;
    }

    private static ConnectionProfile ReadNetwork(TableReader table, DeskTransportKind transport)
    {
        var framing = table.Choice("framing", ("datagram", DeskFraming.Datagram), ("slip", DeskFraming.Slip), ("length", DeskFraming.Length));
        if (transport == DeskTransportKind.Udp && framing is DeskFraming.Slip or DeskFraming.Length)
            table.Problems.Error(table.Table.Entries["framing"].Value, "each UDP datagram is one packet: framing is \"datagram\", or transport is \"tcp\"");
        if (transport == DeskTransportKind.Tcp && framing is null or DeskFraming.Datagram)
            RefuseFraming(table);

        var connection = new ConnectionProfile
        {
            Transport = transport,
            Framing = framing ?? DeskFraming.Datagram,
            Desk = Address(table, table.Required("desk", "the desk's address and port, such as \"192.0.2.10:9000\""), anyPort: false),
            Listen = Address(table, table.Node("listen"), anyPort: true),
            Backup = Address(table, table.Node("backup"), anyPort: false),
            AcceptFrom = Hosts(table),
        };
        table.RefuseUnknown();
        return connection;
    }

    private static void RefuseFraming(TableReader table)
    {
        const string Message = "over TCP framing is \"slip\" (OSC 1.1) or \"length\" (OSC 1.0)";
        if (table.Table.Entries.TryGetValue("framing", out var entry))
            table.Problems.Error(entry.Value, Message);
        else
            table.Required("framing", Message);
    }

    private static HostAndPort? Address(TableReader table, TomlNode? node, bool anyPort)
    {
        if (node is null || table.AsText(node) is not { } text)
            return null;
        var address = HostAndPort.Parse(text);
        if (address is null)
            table.Problems.Error(node, $"\"{text}\" is not host:port; an IPv6 address stands in square brackets");
        else if (address.Port == 0 && !anyPort)
            table.Problems.Error(node, "a port from 1 to 65535 is needed");
        return address;
    }

    private static List<string> Hosts(TableReader table)
    {
        List<string> hosts = [];
        foreach (var node in table.List("accept_from") ?? [])
        {
            if (table.AsText(node) is not { } text)
                continue;
            if (HostAndPort.IsHost(text))
                hosts.Add(text);
            else
                table.Problems.Error(node, $"\"{text}\" is neither an IP address nor a host name (no port belongs here)");
        }

        return hosts;
    }
}
