using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance;

/// <summary>A desk made of liblo's oscsend and oscdump alone: nothing of ours on the other side of the wire.</summary>
public sealed class LibloDeskTests : IAsyncDisposable
{
    private readonly int _deskPort = FreePort.Find(ProtocolType.Udp);
    private readonly int _listenPort = FreePort.Find(ProtocolType.Udp);
    private readonly int _httpPort = FreePort.Find(ProtocolType.Tcp);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-liblo-");
    private readonly CancellationTokenSource _over = new();

    [Fact]
    public async Task Meters_by_oscsend_become_a_trim_that_oscdump_sees_only_after_the_confirmation()
    {
        Assert.SkipUnless(TheProgram.IsInstalled("oscsend") && TheProgram.IsInstalled("oscdump"), "liblo-tools is not installed");
        await using var dump = TheProgram.Other("oscdump", "-L", Text(_deskPort));
        await using var service = TheProgram.TrimAssist(
            "serve", "--desk", WriteProfile(), "--data", _folder.FullName, "--urls", $"http://127.0.0.1:{_httpPort}");
        using var http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{_httpPort}/api/") };
        await TheProgram.EventuallyAsync(() => AnswersAsync(http), TimeSpan.FromSeconds(30), () => string.Join('\n', service.Errors));

        var feeding = FeedAsync(_over.Token);
        await SendAsync("/shelf/1/gain", "f", "30");
        await SendAsync("/shelf/1/closed", "i", "1");
        await TheProgram.EventuallyAsync(async () => (await GetAsync(http, "desks/shelf"))["state"]!.GetValue<string>() == "live", TimeSpan.FromSeconds(10), () => "never live");
        var check = await PostAsync(http, "desks/shelf/checks", """{"inputs":[1]}""");
        await TheProgram.EventuallyAsync(
            async () => (await GetAsync(http, $"checks/{check["id"]}"))["results"]![0]!["activeS"]!.GetValue<double>() > 11,
            TimeSpan.FromSeconds(40),
            () => "never heard enough");
        var proposal = (await PostAsync(http, $"checks/{check["id"]}/finish", "{}"))["proposals"]!.AsArray().Single()!;

        Assert.Equal(("trim", 30.0), (proposal["kind"]!.GetValue<string>(), proposal["from"]!.GetValue<double>()));
        var to = proposal["to"]!.GetValue<double>();
        Assert.InRange(to, 10, 29);
        Assert.DoesNotContain(dump.Output, line => line.Contains("/shelf/1/gain f", StringComparison.Ordinal));
        Assert.Contains(dump.Output, line => line.Contains("/shelf/enrol s \"levels\"", StringComparison.Ordinal));

        var confirmed = await PostAsync(http, $"proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"}""");
        Assert.Contains(confirmed["state"]!.GetValue<string>(), new[] { "confirmed", "applied" });
        await TheProgram.EventuallyAsync(
            () => Task.FromResult(dump.Output.Any(line => line.Contains(string.Create(CultureInfo.InvariantCulture, $"/shelf/1/gain f {to:0.000000}"), StringComparison.Ordinal))),
            TimeSpan.FromSeconds(5),
            () => string.Join('\n', dump.Output));
        await SendAsync("/shelf/1/gain", "f", to.ToString("0.0", CultureInfo.InvariantCulture));
        await TheProgram.EventuallyAsync(
            async () => (await GetAsync(http, $"proposals/{proposal["id"]}"))["state"]!.GetValue<string>() == "applied", TimeSpan.FromSeconds(5), () => "never applied");

        Assert.Single(dump.Output, line => line.Contains("/shelf/1/gain f", StringComparison.Ordinal));
        await _over.CancelAsync();
        await feeding;
    }

    public async ValueTask DisposeAsync()
    {
        await _over.CancelAsync();
        _over.Dispose();
        _folder.Delete(recursive: true);
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static async Task<bool> AnswersAsync(HttpClient http)
    {
        try
        {
            return (await http.GetAsync("health")).IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private static async Task<JsonNode> GetAsync(HttpClient http, string path) => (await http.GetFromJsonAsync<JsonNode>(path))!;

    private static async Task<JsonNode> PostAsync(HttpClient http, string path, string body)
    {
        using var answer = await http.PostAsync(path, new StringContent(body, System.Text.Encoding.UTF8, "application/json"));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }

    private async Task FeedAsync(CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(100), TimeProvider.System);
        var frame = 0;
        try
        {
            while (await timer.WaitForNextTickAsync(cancellationToken))
            {
                // Playing that breathes a little, around -8 dBFS of peak.
                var peak = -9 + (2.5 * Math.Sin(frame * 0.7)) + (0.5 * (frame % 3));
                frame++;
                await SendAsync("/shelf/1/top", "f", peak.ToString("0.00", CultureInfo.InvariantCulture));
            }
        }
        catch (OperationCanceledException)
        {
            // The desk is switched off.
        }
    }

    private async Task SendAsync(string address, string types, params string[] values)
    {
        await using var send = TheProgram.Other("oscsend", ["127.0.0.1", Text(_listenPort), address, types, .. values]);
        await send.EndAsync(TimeSpan.FromSeconds(5));
    }

    private string WriteProfile()
    {
        var file = Path.Combine(_folder.FullName, "shelf.toml");
        File.WriteAllText(file, $$"""
            id = "shelf"
            name = "Shelf of two programs"
            inputs = 1
            [connection]
            transport = "udp"
            desk = "127.0.0.1:{{_deskPort}}"
            listen = "127.0.0.1:{{_listenPort}}"
            [[subscription]]
            address = "/shelf/enrol"
            arguments = ["levels"]
            renew_s = 3.0
            [[meters]]
            address = "/shelf/{input}/top"
            quantity = "peak"
            unit = "dbfs"
            frame_ms = 100
            tap = "converter"
            follows_mute = false
            [controls.trim]
            address = "/shelf/{input}/gain"
            unit = "db"
            value_type = "float"
            range_db = [0.0, 50.0]
            step_db = 1.0
            stage = "analogue"
            [controls.mute]
            address = "/shelf/{input}/closed"
            on = 1
            off = 0
            """);
        return file;
    }
}
