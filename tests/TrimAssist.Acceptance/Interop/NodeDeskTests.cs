using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Desks made of npm <c>node-osc</c> over UDP and npm <c>osc</c> over TCP in SLIP: a stage asks for a safe patch, and the desk mutes when that is confirmed.</summary>
public sealed class NodeDeskTests : IDisposable
{
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(20);
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
