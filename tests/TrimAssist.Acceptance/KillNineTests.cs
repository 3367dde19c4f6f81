using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.Journal;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance;

/// <summary>
/// The service is killed at random points, as its user's machine might do it, and started again. What was acknowledged is
/// remembered, and nothing reaches the desk that was not confirmed in that very round and written down before it was sent. A kill is
/// not a power cut: what the system had taken over is not lost by it. KILL_ROUNDS says how often; eng/kill-nine.sh runs it with many.
/// </summary>
public sealed class KillNineTests : IAsyncDisposable
{
    private const int RoundsInCi = 3;
    private const int TellEvery = 50;

    // Many rounds run beside other work: a machine that is very busy is no fault of the service's.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    private readonly UnrulyDesk _desk = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-kill-");
    private readonly Random _random = new(20260725);
    private readonly HttpClient _http;
    private readonly string _url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}");
    private readonly SqliteJournalReader _journal;
    private readonly List<double> _startedInS = [];
    private readonly List<double> _workedForS = [];
    private readonly HashSet<Guid> _confirmed = [];
    private readonly HashSet<Guid> _sent = [];
    private long _readTo;
    private int _acknowledged;
    private int _killedAtStart;

    public KillNineTests()
    {
        _http = new HttpClient { BaseAddress = new Uri(_url + "/api/"), Timeout = TimeSpan.FromMinutes(2) };
        _journal = new SqliteJournalReader(_folder.FullName);
    }

    private static int Rounds => int.TryParse(Environment.GetEnvironmentVariable("KILL_ROUNDS"), CultureInfo.InvariantCulture, out var rounds) ? rounds : RoundsInCi;

    [Fact]
    public async Task Nothing_acknowledged_is_forgotten_and_nothing_is_sent_again_whenever_it_is_killed()
    {
        var profile = _desk.WriteProfile(_folder.FullName);
        var last = Round.Nothing;
        for (var round = 0; round <= Rounds; round++)
        {
            var writesBefore = _desk.Writes.Count;
            await using var service = TheProgram.TrimAssist("serve", "--desk", profile, "--data", _folder.FullName, "--urls", _url);
            if (round < Rounds && _random.Next(5) == 0)
            {
                // Killed while it starts, with the same memory to be found again by the next.
                _killedAtStart++;
                await WaitAsync(TimeSpan.FromMilliseconds(_random.Next(1000)));
                await service.KillAsync();
                await _desk.CaughtUpAsync();
                Assert.Equal(writesBefore, _desk.Writes.Count);
                continue;
            }

            await ServesAsync(service);
            await RemembersAsync(last);
            await _desk.CaughtUpAsync();
            Assert.Equal(writesBefore, _desk.Writes.Count);
            if (round == Rounds)
                break;
            last = await ConfirmUntilKilledAsync(service);
            _acknowledged += last.Acknowledged.Count;
            if (round % TellEvery == TellEvery - 1)
                Tell(round + 1);
        }

        Assert.Null(_desk.Fault);
        Tell(Rounds);
    }

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _desk.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private void Tell(int rounds) => TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"rounds {rounds}, killed while starting {_killedAtStart}, confirmations acknowledged {_acknowledged}, in the journal {_confirmed.Count}, changes in the journal {_sent.Count}, at the desk {_desk.Writes.Count}; start to first answer {Share(_startedInS, 0.5):0.00} s in the middle, {Share(_startedInS, 0.95):0.00} s for 95 %, {Share(_startedInS, 1):0.00} s at most; processor time until then {Share(_workedForS, 0.5):0.00} s, {Share(_workedForS, 0.95):0.00} s for 95 %"));

    private static double Share(List<double> all, double share) => all.Count == 0 ? double.NaN : all.Order().ElementAt((int)((all.Count - 1) * share));

    private async Task ServesAsync(TheProgram service)
    {
        var began = TimeProvider.System.GetTimestamp();
        await TheProgram.EventuallyAsync(async () => await TryAsync("health") is not null, Patience, () => $"no answer within {Patience}: {string.Join('\n', service.Errors)}");
        _startedInS.Add(TimeProvider.System.GetElapsedTime(began).TotalSeconds);
        _workedForS.Add(service.ProcessorTime.TotalSeconds);
        await TheProgram.EventuallyAsync(
            async () => (await TryAsync("desks/desk/inputs"))?.AsArray().All(input => input!["muted"] is not null) is true
                && (await TryAsync("desks/desk"))?["state"]?.GetValue<string>() == "live",
            Patience,
            () => "never live");
    }

    // What was acknowledged is in the journal and has come to an end; what reached the desk was confirmed and written down, once.
    private async Task RemembersAsync(Round last)
    {
        var (confirmed, sent) = ReadOn();
        Assert.All(last.Acknowledged, id => Assert.Contains(id, confirmed));
        Assert.Equal(sent.Distinct(), sent);
        Assert.All(sent, id => Assert.Contains(id, confirmed));
        Assert.All(last.Written, input => Assert.Contains(last.Proposals[input], sent));
        foreach (var id in last.Acknowledged)
        {
            JsonNode? found = null;
            await TheProgram.EventuallyAsync(
                async () => (found = await TryAsync($"proposals/{id}"))?["state"]?.GetValue<string>() is "applied" or "failed", Patience, () => $"acknowledged, then {found}");
            var input = found!["input"]!.GetValue<int>();
            Assert.Equal(last.Written.Contains(input), found["state"]!.GetValue<string>() == "applied");
        }
    }

    private (IReadOnlyCollection<Guid> Confirmed, IReadOnlyList<Guid> Sent) ReadOn()
    {
        var (confirmed, sent) = (new HashSet<Guid>(), new List<Guid>());
        foreach (var (position, fact) in _journal.ReadAfter(_readTo, JournalKinds.Confirmed, JournalKinds.Sending))
        {
            _readTo = position;
            var proposal = JsonNode.Parse(fact.Body)!["proposal"]!.GetValue<Guid>();
            if (fact.Kind == JournalKinds.Confirmed)
                confirmed.Add(proposal);
            else
                sent.Add(proposal);
        }

        _confirmed.UnionWith(confirmed);
        Assert.DoesNotContain(sent, _sent.Contains);
        _sent.UnionWith(sent);
        return (confirmed, sent);
    }

    // Every input is asked for, confirmed twice at once, and in the middle of it the service is killed.
    private async Task<Round> ConfirmUntilKilledAsync(TheProgram service)
    {
        for (var input = 1; input <= UnrulyDesk.Inputs; input++)
            _desk.Turn(Mute(input), Protocols.Osc.OscArgument.Of(0), told: true);
        await TheProgram.EventuallyAsync(
            async () => (await TryAsync("desks/desk/inputs"))?.AsArray().All(input => input!["muted"]?.GetValue<bool>() is false) is true,
            Patience,
            () => "the open mutes were never read");
        var proposals = await Task.WhenAll(Enumerable.Range(1, UnrulyDesk.Inputs).Select(AskAsync));

        var writesBefore = _desk.Writes.Count;
        var confirms = proposals.SelectMany(one => new[] { ConfirmAsync(one), ConfirmAsync(one) }).ToArray();
        await WaitAsync(TimeSpan.FromMilliseconds(_random.NextDouble() * 120));
        await service.KillAsync();
        Guid[] acknowledged = [.. (await Task.WhenAll(confirms)).OfType<Guid>().Distinct()];
        await _desk.CaughtUpAsync();

        var writes = _desk.Writes.Skip(writesBefore).ToArray();
        Assert.Equal(writes.Distinct(), writes);
        return new(
            acknowledged,
            proposals.ToDictionary(one => one["input"]!.GetValue<int>(), one => one["id"]!.GetValue<Guid>()),
            [.. Enumerable.Range(1, UnrulyDesk.Inputs).Where(input => writes.Contains($"{Mute(input)} 1", StringComparer.Ordinal))]);
    }

    private async Task<JsonNode> AskAsync(int input)
    {
        var patch = await PostAsync($"desks/desk/inputs/{input}/patch", "{}");
        return (await TryAsync($"proposals/{patch!.Value.Body["proposalId"]}"))!;
    }

    private async Task<Guid?> ConfirmAsync(JsonNode proposal) =>
        await PostAsync($"proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"}""") is { Status: HttpStatusCode.OK }
            ? proposal["id"]!.GetValue<Guid>()
            : null;

    private async Task<JsonNode?> TryAsync(string path)
    {
        try
        {
            return await _http.GetFromJsonAsync<JsonNode>(path);
        }
        catch (Exception away) when (IsAway(away))
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
        catch (Exception killed) when (IsAway(killed))
        {
            return null;
        }
    }

    private static bool IsAway(Exception failed) => failed is HttpRequestException or IOException or TaskCanceledException;

    private static string Mute(int input) => string.Create(CultureInfo.InvariantCulture, $"/desk/{input}/closed");

    // The very thing under test is a moment in time that nobody chose.
    private static Task WaitAsync(TimeSpan time) => Task.Delay(time, TimeProvider.System);

    private sealed record Round(IReadOnlyList<Guid> Acknowledged, IReadOnlyDictionary<int, Guid> Proposals, IReadOnlyList<int> Written)
    {
        public static Round Nothing { get; } = new([], new Dictionary<int, Guid>(), []);
    }
}
