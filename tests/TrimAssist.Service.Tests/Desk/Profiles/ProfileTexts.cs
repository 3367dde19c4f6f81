using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

/// <summary>Profiles of invented desks for the tests.</summary>
internal static class ProfileTexts
{
    public const string Full = """
        id = "demo"
        name = "Demo desk"
        inputs = 24

        [connection]
        transport = "udp"
        framing = "datagram"
        desk = "127.0.0.1:9000"
        listen = "127.0.0.1:9001"
        accept_from = ["127.0.0.1"]

        [[subscription]]
        address = "/hello"
        arguments = ["meters", 50]
        renew_s = 5.0

        [[meters]]
        address = "/lv/{input}"
        quantity = "peak"
        unit = "dbfs"
        argument = 0
        frame_ms = 50
        release_db_per_s = 0
        tap = "converter"
        follows_mute = false

        [[meters]]
        address = "/lv/all"
        quantity = "rms"
        unit = "dbfs"
        packing = "blob"
        element = "float32"
        endian = "big"
        skip_bytes = 0
        first_input = 1
        count = 24
        frame_ms = 50
        tap = "converter"
        follows_mute = false

        [controls.trim]
        address = "/in/{input}/trim"
        arguments = ["{value}"]
        unit = "db"
        value_type = "float"
        range_db = [0.0, 54.0]
        step_db = 1.0
        stage = "analogue"
        query = "bare"
        reply_address = "/in/{input}/trim"
        verify = "echo"
        tolerance_db = 0.4
        shared_with = ["monitors"]

        [controls.pad]
        address = "/in/{input}/pad"
        on = 1
        off = 0
        pad_db = 20.0

        [controls.mute]
        address = "/in/{input}/cut"
        on = 1
        off = 0
        covers = ["main", "sends", "direct"]

        [controls.source]
        address = "/in/{input}/from"

        [controls.label]
        address = "/in/{input}/label"
        """;

    /// <summary>The least a profile needs; tests put their own lines behind it.</summary>
    public const string Least = """
        id = "least"
        inputs = 4
        [connection]
        desk = "127.0.0.1:9000"
        [[meters]]
        address = "/lv/{input}"
        quantity = "peak"
        unit = "dbfs"
        frame_ms = 50
        tap = "converter"
        follows_mute = false

        """;

    public static DeskProfile Read(string text)
    {
        var reading = ProfileReader.Read(text, "test.toml");
        Assert.Empty(reading.Errors);
        return reading.Profile ?? throw new InvalidOperationException("no profile and no error");
    }
}
