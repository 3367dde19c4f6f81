using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.Core.Assist;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Events;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Outbound.Webhook;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>The service behind its real web server, a scripted desk before it, and a clock that moves only when the test moves it.</summary>
public sealed class ApiStage : IAsyncLifetime
{
    internal const int Inputs = 8;

    private static readonly TimeSpan Frame = TimeSpan.FromMilliseconds(50);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-api-");
    private readonly SteppedTime _clock = new(new DateTimeOffset(2026, 7, 25, 18, 0, 0, TimeSpan.Zero));
    private RunningService? _service;

    /// <summary>How the rehearsal room works; <see langword="null"/> where it is none.</summary>
    internal RehearsalOptions? Room { get; init; }

    /// <summary>Where the service posts its events; <see langword="null"/> for nowhere.</summary>
    internal WebhookOptions? Webhook { get; init; }

    /// <summary>The input lists that the service is started with.</summary>
    internal IReadOnlyList<string> InputLists { get; set; } = [];

    internal BenchDesk Desk { get; } = new(Inputs, named: Inputs, isWhole: true);

    internal HttpClient Http { get; private set; } = null!;

    internal string DataFolder => _folder.FullName;

    private DeskHost Host => _service!.Services.GetRequiredService<DeskHosts>().Find("bench")!;

    /// <summary>What carries the events to those who listen.</summary>
    internal EventHub Hub => _service!.Services.GetRequiredService<EventHub>();

    internal Uri Url => Http.BaseAddress!;

    public async ValueTask InitializeAsync()
    {
        await StartAsync();
        await ComeLiveAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        Desk.Dispose();
        _folder.Delete(recursive: true);
    }

    internal async Task StartAsync()
    {
        var profile = ProfileReader.Read(Desk.Profile(), "bench.toml").Profile!;
        _service = await RunningService.StartAsync(
            new ServeOptions { Profiles = [], DataFolder = DataFolder, Urls = "http://127.0.0.1:0", Time = _clock, Room = Room, InputLists = InputLists, Webhook = Webhook }, [profile], TestContext.Current.CancellationToken);
        Http = new HttpClient { BaseAddress = new Uri(_service.Urls[0]) };
    }

    internal async Task StopAsync()
    {
        Http.Dispose();
        if (_service is not null)
            await _service.DisposeAsync();
    }

    internal async Task RestartAsync()
    {
        await StopAsync();
        await StartAsync();
    }

    /// <summary>Sends meters until the link is live.</summary>
    internal async Task ComeLiveAsync()
    {
        await UntilAsync(() => Task.FromResult(Desk.HasSubscriber));
        await UntilAsync(async () =>
        {
            _clock.Advance(Frame);
            Desk.SendFrame();
            return (await GetAsync("api/desks/bench"))["state"]!.GetValue<string>() == "live";
        });
        await UntilAsync(async () =>
        {
            await PassAsync(1);
            return (await GetAsync("api/desks/bench/inputs")).AsArray().All(input => input!["trimDb"] is not null && input["faderDb"] is not null && input["socket"] is not null);
        });
    }

    /// <summary>Lets frames pass; returns when the service has heard them all.</summary>
    internal async Task PassAsync(int frames)
    {
        for (var sent = 0; sent < frames; sent++)
        {
            // The clock stands while the frame is on its way: a frame late by a step would look like a leap.
            var before = await HeardAsync();
            _clock.Advance(Frame);
            Desk.SendFrame();
            await UntilAsync(async () => await HeardAsync() > before);
        }
    }

    /// <summary>Lets time pass in which the desk says nothing.</summary>
    internal async Task WaitAsync(TimeSpan wait)
    {
        _clock.Advance(wait);
        // Twice through the desk's loop: whatever the new time brings has happened by then.
        await GetAsync("api/desks/bench");
        await GetAsync("api/desks/bench");
    }

    /// <summary>Has inputs play a check and finishes it.</summary>
    internal async Task<JsonNode> CheckAsync(params (int Input, double PeakDbfs)[] players)
    {
        var check = await StartCheckAsync([.. players.Select(player => player.Input)]);
        foreach (var (input, peak) in players)
            Desk.Play(input, peak);
        await PassAsync(280);
        Desk.Rest();
        return await PostAsync($"api/checks/{check["id"]}/finish");
    }

    internal Task<JsonNode> StartCheckAsync(params int[] inputs) =>
        PostAsync("api/desks/bench/checks", $$"""{"inputs":[{{string.Join(',', inputs)}}]}""");

    /// <summary>The id of the check begun last; <see langword="null"/> before the first.</summary>
    internal Task<Guid?> LatestCheckAsync() =>
        Host.AskAsync(static assistant => assistant.LatestCheck?.Id);

    /// <summary>The one proposal of a check of one input.</summary>
    internal async Task<JsonNode> ProposalAsync(int input = 1, double peakDbfs = -5) =>
        Assert.Single((await CheckAsync((input, peakDbfs)))["proposals"]!.AsArray())!;

    internal async Task<JsonNode> GetAsync(string path) => await JsonAsync(await Http.GetAsync(path), 200);

    internal async Task<JsonNode> PostAsync(string path, string? body = null, int status = 0) => await JsonAsync(await SendAsync(path, body), status);

    internal Task<HttpResponseMessage> SendAsync(string path, string? body = null) =>
        Http.PostAsync(path, body is null ? null : new StringContent(body, Encoding.UTF8, "application/json"));

    /// <summary>Confirms exactly what was shown.</summary>
    internal Task<JsonNode> ConfirmAsync(JsonNode proposal, int status = 200) =>
        PostAsync($"api/proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}","acknowledge":{{proposal["needs"]!.ToJsonString()}}}""", status);

    /// <summary>Waits until a proposal stands so, while time goes on.</summary>
    internal Task BecomesAsync(JsonNode proposal, string state) => UntilAsync(async () =>
    {
        await PassAsync(1);
        return (await GetAsync($"api/proposals/{proposal["id"]}"))["state"]!.GetValue<string>() == state;
    });

    /// <summary>Asserts a problem document and its code.</summary>
    internal static async Task<JsonNode> ProblemAsync(HttpResponseMessage answer, int status, string code)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal((status, "application/problem+json"), ((int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        var problem = JsonNode.Parse(text)!;
        Assert.Equal((code, $"/problems/{code}"), (problem["code"]?.GetValue<string>(), problem["type"]?.GetValue<string>()));
        Assert.Equal(status, problem["status"]?.GetValue<int>());
        return problem;
    }

    /// <summary>Waits for what the machine does in its own time; the service's clock stands.</summary>
    internal static async Task UntilAsync(Func<Task<bool>> holds)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (!await holds())
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(30), "It never came.");
            await Task.Yield();
        }
    }

    // Not over HTTP: it is asked several times a frame.
    private async Task<long> HeardAsync() => (await Host.DescribeAsync()).FramesHeard;

    private static async Task<JsonNode> JsonAsync(HttpResponseMessage answer, int status)
    {
        using (answer)
        {
            var text = await answer.Content.ReadAsStringAsync();
            Assert.True(status == 0 ? answer.IsSuccessStatusCode : (int)answer.StatusCode == status, string.Create(CultureInfo.InvariantCulture, $"{(int)answer.StatusCode} {text}"));
            return JsonNode.Parse(text)!;
        }
    }
}
