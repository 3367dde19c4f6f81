using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance;

/// <summary>
/// The service is killed at random points, as its user's machine might do it, and started again. What was acknowledged is
/// remembered, and nothing reaches the desk that was not confirmed in that very round. A kill is not a power cut: what the
/// system had taken over is not lost by it. KILL_ROUNDS says how often; eng/kill-nine.sh runs it with many.
/// </summary>
public sealed class KillNineTests : IAsyncDisposable
{
    private readonly UnrulyDesk _desk = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-kill-");
    private readonly Random _random = new(20260725);
    private readonly HttpClient _http;
    private readonly string _url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}");
    private readonly List<double> _startedInS = [];

    public KillNineTests() => _http = new HttpClient { BaseAddress = new Uri(_url + "/api/"), Timeout = TimeSpan.FromSeconds(20) };

    private static int Rounds => int.TryParse(Environment.GetEnvironmentVariable("KILL_ROUNDS"), CultureInfo.InvariantCulture, out var rounds) ? rounds : 3;

    [Fact]
    public async Task Nothing_acknowledged_is_forgotten_and_nothing_is_sent_again_whenever_it_is_killed()
    {
        var profile = _desk.WriteProfile(_folder.FullName);
        var (acknowledged, written, killedAtStart) = (0, 0, 0);
        IReadOnlyList<string> expected = [];
        for (var round = 0; round <= Rounds; round++)
        {
            var writesBefore = _desk.Writes.Count;
            await using var service = TheProgram.TrimAssist("serve", "--desk", profile, "--data", _folder.FullName, "--urls", _url);
            if (round < Rounds && _random.Next(5) == 0)
            {
                // Killed while it starts, with the same memory to be found again by the next.
                killedAtStart++;
                await WaitAsync(TimeSpan.FromMilliseconds(_random.Next(1500)));
                Assert.Equal(writesBefore, _desk.Writes.Count);
                continue;
            }

            await ServesAsync(service);
            await RemembersAsync(expected);
            Assert.Equal(writesBefore, _desk.Writes.Count);
            if (round == Rounds)
                break;
            expected = await ConfirmUntilKilledAsync(service);
            acknowledged += expected.Count;
            written += _desk.Writes.Count - writesBefore;
        }

        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"rounds {Rounds}, killed while starting {killedAtStart}, confirmations acknowledged {acknowledged}, changes at the desk {written}, start to first answer {_startedInS.Order().ElementAt(_startedInS.Count / 2):0.00} s in the middle, {_startedInS.Max():0.00} s at most"));
    }

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _desk.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private async Task ServesAsync(TheProgram service)
    {
        var began = TimeProvider.System.GetTimestamp();
        await TheProgram.EventuallyAsync(async () => await TryAsync("health") is not null, TimeSpan.FromSeconds(60), () => string.Join('\n', service.Errors));
        _startedInS.Add(TimeProvider.System.GetElapsedTime(began).TotalSeconds);
        await TheProgram.EventuallyAsync(
            async () => (await TryAsync("desks/desk/inputs"))?.AsArray().All(input => input!["muted"] is not null) is true
                && (await TryAsync("desks/desk"))?["state"]?.GetValue<string>() == "live",
            TimeSpan.FromSeconds(60),
            () => "never live");
    }

    private async Task RemembersAsync(IReadOnlyList<string> acknowledged)
    {
        foreach (var id in acknowledged)
        {
            JsonNode? found = null;
            await TheProgram.EventuallyAsync(
                async () => (found = await TryAsync($"proposals/{id}"))?["state"]?.GetValue<string>() is "applied" or "failed", TimeSpan.FromSeconds(30), () => $"acknowledged, then {found}");
        }
    }

    // Every input is asked for, confirmed twice at once, and in the middle of it the service is killed.
    private async Task<IReadOnlyList<string>> ConfirmUntilKilledAsync(TheProgram service)
    {
        for (var input = 1; input <= UnrulyDesk.Inputs; input++)
            _desk.Turn($"/desk/{input}/closed", Protocols.Osc.OscArgument.Of(0));
        await TheProgram.EventuallyAsync(
            async () => (await TryAsync("desks/desk/inputs"))?.AsArray().All(input => input!["muted"]?.GetValue<bool>() is false) is true,
            TimeSpan.FromSeconds(30),
            () => "the open mutes were never read");
        var proposals = new List<JsonNode>();
        for (var input = 1; input <= UnrulyDesk.Inputs; input++)
        {
            var patch = await PostAsync($"desks/desk/inputs/{input}/patch", "{}");
            proposals.Add((await TryAsync($"proposals/{patch!.Value.Body["proposalId"]}"))!);
        }

        var writesBefore = _desk.Writes.ToArray();
        var confirms = proposals.SelectMany(one => new[] { ConfirmAsync(one), ConfirmAsync(one) }).ToArray();
        await WaitAsync(TimeSpan.FromMilliseconds(_random.NextDouble() * 120));
        await service.KillAsync();
        string[] acknowledged = [.. (await Task.WhenAll(confirms)).OfType<string>().Distinct()];
        await WaitAsync(TimeSpan.FromMilliseconds(50));

        var writes = _desk.Writes.Skip(writesBefore.Length).ToArray();
        Assert.Equal(writes.Distinct(), writes);
        return acknowledged;
    }

    private async Task<string?> ConfirmAsync(JsonNode proposal) =>
        await PostAsync($"proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"}""") is { Status: HttpStatusCode.OK }
            ? proposal["id"]!.GetValue<string>()
            : null;

    private async Task<JsonNode?> TryAsync(string path)
    {
        try
        {
            return await _http.GetFromJsonAsync<JsonNode>(path);
        }
        catch (Exception away) when (away is HttpRequestException or IOException)
        {
            return null;
        }
    }

    private async Task<(HttpStatusCode Status, JsonNode Body)?> PostAsync(string path, string body)
    {
        try
        {
            using var answer = await _http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
            return (answer.StatusCode, JsonNode.Parse(await answer.Content.ReadAsStringAsync())!);
        }
        catch (Exception killed) when (killed is HttpRequestException or IOException)
        {
            return null;
        }
    }

    // The very thing under test is a moment in time that nobody chose.
    private static Task WaitAsync(TimeSpan time) => Task.Delay(time, TimeProvider.System);
}
