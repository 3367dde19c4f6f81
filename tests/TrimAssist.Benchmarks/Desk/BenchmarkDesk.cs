using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Desk.Profiles.Templates;

namespace TrimAssist.Benchmarks.Desk;

/// <summary>The invented desk of the benchmarks: 64 inputs, one message an input or one blob for all.</summary>
internal static class BenchmarkDesk
{
    /// <summary>The address of one input's meter.</summary>
    public static AddressTemplate Address { get; } = AddressTemplate.Parse("/lv/{input:00}", out _)!;

    /// <summary>A profile whose meters come as <see cref="Osc.MeterPackets"/> makes them.</summary>
    /// <param name="meters">How a message carries the levels.</param>
    /// <param name="listen">The port to listen on; 0 for any.</param>
    public static DeskProfile Profile(MeterPacking meters, int listen = 0)
    {
        var reading = ProfileReader.Read(
            $"""
            id = "bench"
            inputs = 64
            [connection]
            transport = "udp"
            desk = "127.0.0.1:9"
            listen = "127.0.0.1:{listen}"
            [[meters]]
            {(meters == MeterPacking.Blob ? "address = \"/lv/all\"\npacking = \"blob\"\nelement = \"float32\"" : "address = \"/lv/{input:00}\"")}
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 20
            tap = "converter"
            follows_mute = false
            """,
            "bench.toml");
        return reading.Profile ?? throw new InvalidOperationException(string.Join('\n', reading.Errors));
    }
}
