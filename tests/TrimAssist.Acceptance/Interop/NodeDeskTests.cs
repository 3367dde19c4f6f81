using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>
/// Desks made of npm <c>node-osc</c> over UDP and npm <c>osc</c> over TCP in SLIP: a stage asks for a safe patch, and the desk mutes when that is
/// confirmed. Pads made of npm <c>rtpmidi</c> show that it waits; that library can receive, it does not send.
/// </summary>
public sealed class NodeDeskTests : IDisposable
{
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(60);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-pier-");

    [Theory]
    [InlineData("udp")]
    [InlineData("slip")]
    public async Task A_mute_is_taken_and_read_back_once_confirmed(string wire)
    {
        NodePeer.Need();
        var deskPort = FreePort.Find(wire == "udp" ? ProtocolType.Udp : ProtocolType.Tcp);
        var httpPort = FreePort.Find(ProtocolType.Tcp);
        await using var desk = NodePeer.Desk(wire, deskPort.ToString(CultureInfo.InvariantCulture));
        await TheProgram.EventuallyAsync(() => Task.FromResult(desk.Output.Contains("ready")), Soon, () => string.Join('\n', desk.Errors));
        await using var service = TheProgram.TrimAssist("serve", "--desk", Profile(wire, deskPort), "--data", _folder.FullName, "--urls", $"http://127.0.0.1:{httpPort}");
        using var http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{httpPort}/api/") };
        await TheProgram.EventuallyAsync(() => IsReadyAsync(http), Soon, () => string.Join('\n', service.Errors));

        using var asked = await http.PostAsJsonAsync("desks/pier/inputs/2/patch", new { reason = "another lead" });
        Assert.True(asked.IsSuccessStatusCode, await asked.Content.ReadAsStringAsync());
        var mute = (await http.GetFromJsonAsync<JsonArray>("proposals?state=open"))!.Single()!;
        Assert.Equal("mute", mute["kind"]!.GetValue<string>());
        Assert.DoesNotContain(desk.Output, line => line.StartsWith("took", StringComparison.Ordinal));

        using var confirmed = await http.PostAsJsonAsync($"proposals/{mute["id"]}/confirm", new { digest = mute["digest"]!.GetValue<string>() });
        Assert.True(confirmed.IsSuccessStatusCode, await confirmed.Content.ReadAsStringAsync());
        await TheProgram.EventuallyAsync(
            async () => (await http.GetFromJsonAsync<JsonNode>($"proposals/{mute["id"]}"))!["state"]!.GetValue<string>() == "applied", Soon, () => string.Join('\n', service.Errors));
        Assert.Equal("took /pier/2/shut 1", Assert.Single(desk.Output, line => line.StartsWith("took", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Lamps_on_network_MIDI_tell_pads_made_of_npm_rtpmidi_what_waits_for_a_press()
    {
        NodePeer.Need("rtpmidi");
        var (deskPort, padsPort, httpPort) = (FreePort.Find(ProtocolType.Udp), FreePort.FindPair(), FreePort.Find(ProtocolType.Tcp));
        await using var desk = NodePeer.Desk("udp", deskPort.ToString(CultureInfo.InvariantCulture));
        await using var pads = NodePeer.Pads(padsPort);
        await TheProgram.EventuallyAsync(() => Task.FromResult(desk.Output.Contains("ready") && pads.Output.Contains("ready")), Soon, () => string.Join('\n', desk.Errors.Concat(pads.Errors)));
        var settings = Path.Combine(_folder.FullName, "settings.json");
        await File.WriteAllTextAsync(settings, $$"""
            {
              "desks": ["{{Path.GetFileName(Profile("udp", deskPort))}}"],
              "surfaces": [{
                "name": "pads", "desk": "pier", "role": "engineer",
                "midi": { "port": "rtp:127.0.0.1:{{padsPort}}", "confirm": [{ "note": 36 }], "decline": [{ "channel": 2, "controller": 20 }] }
              }]
            }
            """);
        await using var service = TheProgram.TrimAssist("serve", "--config", settings, "--data", _folder.FullName, "--urls", $"http://127.0.0.1:{httpPort}");
        using var http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{httpPort}/api/") };
        await TheProgram.EventuallyAsync(() => IsReadyAsync(http), Soon, () => string.Join('\n', service.Errors));
        await UntilToldAsync("told 902400", "told b11400");

        using var asked = await http.PostAsJsonAsync("desks/pier/inputs/2/patch", new { reason = "another lead" });
        Assert.True(asked.IsSuccessStatusCode, await asked.Content.ReadAsStringAsync());
        await UntilToldAsync("told 902401", "told b11401", "told 90247f", "told b1147f");
        Assert.DoesNotContain(desk.Output, line => line.StartsWith("took", StringComparison.Ordinal));
        Assert.All(pads.Output.Where(line => line.StartsWith("told", StringComparison.Ordinal)), line => Assert.Matches("^told (9024|b114)(00|01|7f)$", line));

        Task UntilToldAsync(params string[] lines) =>
            TheProgram.EventuallyAsync(() => Task.FromResult(lines.All(pads.Output.Contains)), Soon, () => string.Join('\n', [.. pads.Output.TakeLast(5), .. pads.Errors, .. service.Errors]));
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private static async Task<bool> IsReadyAsync(HttpClient http)
    {
        try
        {
            return (await http.GetFromJsonAsync<JsonNode>("desks/pier"))!["state"]!.GetValue<string>() == "live"
                && (await http.GetFromJsonAsync<JsonArray>("desks/pier/inputs"))![1]!["muted"]?.GetValue<bool>() is false;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private string Profile(string wire, int port)
    {
        var file = Path.Combine(_folder.FullName, "pier.toml");
        File.WriteAllText(file, $$"""
            id = "pier"
            inputs = 4
            [connection]
            desk = "127.0.0.1:{{port}}"
            {{(wire == "udp" ? "" : "transport = \"tcp\"\nframing = \"slip\"")}}
            [[meters]]
            address = "/pier/{input}/top"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 50
            [controls.mute]
            address = "/pier/{input}/shut"
            on = 1
            off = 0
            covers = ["main"]
            """);
        return file;
    }
}
