using System.Net;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Profiles of an invented desk for the tests of the link, put together from parts.</summary>
internal static class LinkProfiles
{
    public const string Peaks = """
        [[meters]]
        address = "/t/{input}/top"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        """;

    public const string Trim = """
        [controls.trim]
        address = "/t/{input}/gain"
        unit = "db"
        range_db = [0.0, 60.0]
        step_db = 1.0
        """;

    public const string Mute = """
        [controls.mute]
        address = "/t/{input}/shut"
        on = 1
        off = 0
        covers = ["main"]
        """;

    public const string Source = """
        [controls.source]
        address = "/t/{input}/plug"
        """;

    public static DeskProfile Udp(IPEndPoint desk, params string[] parts) => Of($"""desk = "{desk}" """, parts);

    public static DeskProfile Of(string connection, params string[] parts)
    {
        var text = $"""
            id = "loose"
            name = "Loose desk"
            inputs = 4
            [connection]
            {connection}
            {string.Join('\n', parts)}
            """;
        var reading = ProfileReader.Read(text, "loose.toml");
        Assert.Empty(reading.Errors);
        return reading.Profile!;
    }
}
