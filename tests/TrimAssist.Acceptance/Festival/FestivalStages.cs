using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.DemoDesk;
using TrimAssist.DemoDesk.Festival;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Loops;
using Xunit;

namespace TrimAssist.Acceptance.Festival;

/// <summary>
/// The service with its desks on the wire and its crew at the HTTP interface. Time moves as fast as all of them keep up: the clock goes on by one frame when
/// every desk has sent it, and waits until every frame was heard.
/// </summary>
internal sealed class FestivalStages : IAsyncDisposable
{
    private const ulong Seed = 1902;

    /// <summary>So many frames may be on their way: less than the half second after which a desk's meters count as stopped.</summary>
    private const int Ahead = 8;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-festival-");
    private readonly SteppedTime _clock = new(new DateTimeOffset(2026, 7, 25, 12, 0, 0, TimeSpan.Zero));
    private readonly List<(string Id, DemoMixer Mixer, BuiltInDesk Peer)> _desks = [];
    private readonly Dictionary<string, (long Sent, long Heard)> _live = [];
    private RunningService? _service;
    private HttpClient? _http;

    private FestivalStages()
    {
    }

    /// <summary>Where the journal lives.</summary>
    public string DataFolder => _folder.FullName;

    private HttpClient Http => _http!;

    /// <summary>Switches everything on.</summary>
    /// <param name="stages">The stages that play, with their acts.</param>
    public static async Task<FestivalStages> StartAsync(params IEnumerable<(string Id, IEnumerable<int> Acts)> stages)
    {
        var started = new FestivalStages();
        foreach (var (id, acts) in stages)
        {
            var mixer = new DemoMixer(Seed, FestivalDay.ProgrammeOf(acts)) { IsHeld = true };
            started._desks.Add((id, mixer, new BuiltInDesk(mixer, started._clock)));
        }

        await started.ComeLiveAsync();
        return started;
    }

    public async ValueTask DisposeAsync()
    {
        await StopServiceAsync();
        foreach (var (_, _, peer) in _desks)
            peer.Dispose();
        _folder.Delete(recursive: true);
    }

    /// <summary>Ends the service; the desks go on.</summary>
    public async Task StopServiceAsync()
    {
        _http?.Dispose();
        if (_service is { } service)
            await service.DisposeAsync();
        (_http, _service) = (null, null);
    }

    /// <summary>Hands in an input list.</summary>
    public async Task<JsonNode> TakeInAsync(string desk, byte[] list)
    {
        using var body = new ByteArrayContent(list);
        body.Headers.ContentType = new("text/csv");
        return await JsonAsync(await Http.PostAsync($"api/desks/{desk}/acts", body, Stopping));
    }

    /// <summary>Plays an act: comes on, is checked, confirmed and watched, and goes off.</summary>
    public async Task PlayAsync(string desk, string act)
    {
        var mixer = Mixer(desk);
        await PostAsync($"api/desks/{desk}/acts/{Uri.EscapeDataString(act)}/begin");
        await RunToAsync(mixer, FestivalPhase.Check);
        var check = await PostAsync($"api/desks/{desk}/checks", "{}");
        await RunToAsync(mixer, FestivalPhase.Ready);
        var before = TrimsOf(mixer);
        await PostAsync($"api/checks/{check["id"]}/finish");
        Assert.Equal(before, TrimsOf(mixer));
        await ConfirmAllAsync(desk);
        await PostAsync($"api/desks/{desk}/watch", """{"on":true}""");
        await RunToAsync(mixer, FestivalPhase.Show);
        await RunAsync(mixer, () => mixer.Moment.PhaseS >= mixer.PhaseLengthS - DemoMixer.FrameLengthS);
        await PostAsync($"api/desks/{desk}/watch", """{"on":false}""");
        (await Http.PostAsync($"api/desks/{desk}/acts/end", null, Stopping)).EnsureSuccessStatusCode();
    }

    /// <summary>The next act comes on, and the stage waits.</summary>
    public Task ChangeOverAsync(string desk) => RunToAsync(Mixer(desk), FestivalPhase.Changeover);

    /// <summary>The review of an act's last trims.</summary>
    public Task<JsonNode> RecallAsync(string desk, string act) => PostAsync($"api/desks/{desk}/acts/{Uri.EscapeDataString(act)}/recall");

    /// <summary>Confirms everything that is open on a desk, each by its own digest and with its dangers named, until nothing is left.</summary>
    /// <returns>How many were confirmed.</returns>
    public async Task<int> ConfirmAllAsync(string desk)
    {
        for (var confirmed = 0; ; confirmed++)
        {
            var open = (await GetAsync("api/proposals?state=open")).AsArray().FirstOrDefault(one => one!["desk"]!.GetValue<string>() == desk);
            if (open is null)
                return confirmed;
            var confirming = PostAsync($"api/proposals/{open["id"]}/confirm", $$"""{"digest":"{{open["digest"]}}","acknowledge":{{open["needs"]!.ToJsonString()}}}""");
            while (!confirming.IsCompleted)
                await AnswerAsync();
            await confirming;
            string state;
            do
            {
                await AnswerAsync();
                state = (await GetAsync($"api/proposals/{open["id"]}"))["state"]!.GetValue<string>();
            }
            while (state == "confirmed");
            Assert.Equal("applied", state);
        }
    }

    /// <summary>Forgets every player that was heard.</summary>
    /// <returns>How many there were.</returns>
    public async Task<int> ForgetAllAsync()
    {
        var players = (await GetAsync("api/players")).AsArray().Select(one => one!["player"]!.GetValue<string>()).Distinct().ToList();
        foreach (var player in players)
            await JsonAsync(await Http.DeleteAsync($"api/players/{Uri.EscapeDataString(player)}", Stopping));
        Assert.Empty((await GetAsync("api/players")).AsArray());
        return players.Count;
    }

    /// <summary>What really was the highest peak of each input in a show.</summary>
    /// <param name="desk">The stage's desk.</param>
    /// <param name="act">The act's number on that stage.</param>
    public double[] TruePeaks(string desk, int act) => [.. Enumerable.Range(1, FestivalDay.Inputs).Select(input => Mixer(desk).Truth.ShowPeaksDbfs[(act, input)])];

    /// <summary>The trims as they stand at the desk.</summary>
    public double[] TrimsOf(string desk) => TrimsOf(Mixer(desk));

    private static CancellationToken Stopping => TestContext.Current.CancellationToken;

    private DemoMixer Mixer(string desk) => _desks.Find(one => one.Id == desk).Mixer;

    private static double[] TrimsOf(DemoMixer mixer) => [.. Enumerable.Range(1, mixer.Inputs).Select(input => mixer.Input(input).TrimDb)];

    private async Task ComeLiveAsync()
    {
        foreach (var (id, _, peer) in _desks)
            await File.WriteAllTextAsync(ProfileFile(id), Profile(id, peer), Stopping);
        _service = await RunningService.StartAsync(
            new ServeOptions { Profiles = [.. _desks.Select(desk => ProfileFile(desk.Id))], DataFolder = DataFolder, Urls = "http://127.0.0.1:0", Time = _clock }, Stopping);
        _http = new HttpClient { BaseAddress = new Uri(_service.Urls[0]) };
        JsonArray desks;
        do
        {
            StepOnce();
            await Task.Yield();
            desks = (await GetAsync("api/desks")).AsArray();
        }
        while (desks.Any(desk => desk!["state"]!.GetValue<string>() != "live"));
        foreach (var (id, _, peer) in _desks)
            _live[id] = (peer.Frames, await HeardAsync(id));
    }

    private string ProfileFile(string id) => Path.Combine(DataFolder, id + ".toml");

    private static string Profile(string id, BuiltInDesk peer) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "config", "demo-desk.toml"))
        .Replace("id = \"demo\"", $"id = \"{id}\"", StringComparison.Ordinal)
        .Replace("name = \"Demo desk\"", $"name = \"Desk of the {id} stage\"", StringComparison.Ordinal)
        .Replace("inputs = 24", $"inputs = {FestivalDay.Inputs}", StringComparison.Ordinal)
        .Replace("count = 24", $"count = {FestivalDay.Inputs}", StringComparison.Ordinal)
        .Replace("127.0.0.1:9000", peer.EndPoint.ToString(), StringComparison.Ordinal);

    private Task RunToAsync(DemoMixer mixer, FestivalPhase phase) => RunAsync(mixer, () => mixer.Moment.Phase == phase);

    // The other stages wait.
    private async Task RunAsync(DemoMixer mixer, Func<bool> reached)
    {
        mixer.IsHeld = false;
        while (!reached())
        {
            for (var frames = 0; frames < Ahead && !reached(); frames++)
                StepOnce();
            await CatchUpAsync();
        }

        mixer.IsHeld = true;
    }

    private void StepOnce()
    {
        foreach (var (_, _, peer) in _desks)
            peer.Step();
        _clock.Advance(BuiltInDesk.StepLength);
    }

    // Not over HTTP: it is asked after every few frames.
    private Task CatchUpAsync() => Task.WhenAll(_desks.Select(async desk =>
    {
        var (sent, heard) = _live[desk.Id];
        while (await HeardAsync(desk.Id) - heard < desk.Peer.Frames - sent)
            await Task.Yield();
    }));

    private async Task<long> HeardAsync(string id)
    {
        var desk = await _service!.Services.GetRequiredService<DeskHosts>().Find(id)!.DescribeAsync();
        return desk.FramesHeard + desk.FramesLost;
    }

    private async Task AnswerAsync()
    {
        foreach (var (_, _, peer) in _desks)
            peer.Answer();
        await Task.Yield();
    }

    private async Task<JsonNode> GetAsync(string path) => await JsonAsync(await Http.GetAsync(path, Stopping));

    private async Task<JsonNode> PostAsync(string path, string? body = null)
    {
        using var content = body is null ? null : new StringContent(body, Encoding.UTF8, "application/json");
        return await JsonAsync(await Http.PostAsync(path, content, Stopping));
    }

    private static async Task<JsonNode> JsonAsync(HttpResponseMessage answer)
    {
        using (answer)
        {
            var text = await answer.Content.ReadAsStringAsync(Stopping);
            Assert.True(answer.IsSuccessStatusCode, string.Create(CultureInfo.InvariantCulture, $"{answer.RequestMessage?.RequestUri} {(int)answer.StatusCode} {text}"));
            return JsonNode.Parse(text)!;
        }
    }
}
