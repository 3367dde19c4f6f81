using System.Net.Http.Json;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Surfaces;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>The whole service over HTTP on one side, a scripted desk behind real sockets on the other, and one clock that the test moves for both.</summary>
internal sealed class ConformanceStage : IAsyncDisposable
{
    private readonly SteppedTime _clock;
    private readonly RunningService _service;
    private readonly DeskHost _host;
    private readonly HttpClient _http;
    private readonly DirectoryInfo _data;
    private readonly TimeSpan _frame;

    private ConformanceStage(SteppedTime clock, IForeignDesk desk, RunningService service, DirectoryInfo data)
    {
        (_clock, Desk, _service, _data) = (clock, desk, service, data);
        _frame = TimeSpan.FromSeconds(desk.FrameS);
        _host = service.Services.GetRequiredService<DeskHosts>().Find(desk.Id)!;
        _http = new HttpClient { BaseAddress = new Uri(service.Urls[0]) };
        Id = desk.Id;
    }

    public string Id { get; }

    public IForeignDesk Desk { get; }

    public static Task<ConformanceStage> StartAsync(Dialect dialect, string? recordFile = null, params IReadOnlyList<SurfaceOptions> surfaces) =>
        StartAsync(clock => new ScriptedDesk(dialect, clock), recordFile, surfaces);

    public static async Task<ConformanceStage> StartAsync(
        Func<TimeProvider, IForeignDesk> make, string? recordFile = null, params IReadOnlyList<SurfaceOptions> surfaces)
    {
        var clock = new SteppedTime(new DateTimeOffset(2026, 7, 25, 17, 0, 0, TimeSpan.Zero));
        var desk = make(clock);
        var reading = ProfileReader.Read(desk.ProfileText, $"{desk.Id}.toml");
        Assert.Empty(reading.Errors);
        var data = Directory.CreateTempSubdirectory("trimassist-foreign-");
        var options = new ServeOptions { Profiles = [], DataFolder = data.FullName, Urls = "http://127.0.0.1:0", Time = clock, RecordFile = recordFile, Surfaces = surfaces };
        var service = await RunningService.StartAsync(options, [reading.Profile!], CancellationToken.None);
        return new ConformanceStage(clock, desk, service, data);
    }

    /// <summary>One meter frame passes: the desk plays and answers, the service hears all of it.</summary>
    public async Task StepAsync()
    {
        _clock.Advance(_frame);
        Desk.SendFrame();
        Loopback.Settle();
        await HeardAsync();
        Loopback.Settle();
        Desk.Attend();
    }

    public async Task PlayAsync(double seconds)
    {
        for (var left = seconds; left > 0; left -= _frame.TotalSeconds)
            await StepAsync();
    }

    /// <summary>Plays until something holds, for so many seconds at the most.</summary>
    public async Task UntilAsync(string what, Func<Task<bool>> holds, double seconds)
    {
        for (var left = seconds; !await holds(); left -= 4 * _frame.TotalSeconds)
        {
            Assert.True(left > 0, $"{Id}: never came about within {seconds} s: {what}; {(await DeskAsync()).Reason}");
            for (var frame = 0; frame < 4; frame++)
                await StepAsync();
        }
    }

    /// <summary>Plays while a request is answered.</summary>
    public async Task<T> WhileAsync<T>(Task<T> request)
    {
        while (!request.IsCompleted)
            await StepAsync();
        return await request;
    }

    public Task<DeskReply> DeskAsync() => GetAsync<DeskReply>($"api/desks/{Id}");

    public async Task<InputReply> InputAsync(int input) => (await GetAsync<IReadOnlyList<InputReply>>($"api/desks/{Id}/inputs"))[input - 1];

    public async Task<CheckReply> StartCheckAsync(params int[] inputs) => await PostAsync<CheckReply>($"api/desks/{Id}/checks", new CheckRequest(inputs));

    public Task<CheckReply> CheckAsync(Guid id) => GetAsync<CheckReply>($"api/checks/{id}");

    public Task<CheckReply> FinishAsync(Guid id) => PostAsync<CheckReply>($"api/checks/{id}/finish", null);

    public Task<ProposalReply> ProposalAsync(Guid id) => GetAsync<ProposalReply>($"api/proposals/{id}");

    public Task<HttpResponseMessage> ConfirmAsync(Guid id, string digest, IReadOnlyList<string> acknowledge) =>
        _http.PostAsJsonAsync($"api/proposals/{id}/confirm", new ConfirmRequest(digest, acknowledge), ApiJson.Options);

    public Task<IReadOnlyList<ProposalReply>> OpenAsync() => GetAsync<IReadOnlyList<ProposalReply>>("api/proposals?state=open");

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _service.DisposeAsync();
        Desk.Dispose();
        _data.Delete(recursive: true);
    }

    // Twice, because the loop may have been between its ears and its mailbox the first time.
    private async Task HeardAsync()
    {
        await _host.AskAsync(static _ => true);
        await _host.AskAsync(static _ => true);
    }

    private async Task<T> GetAsync<T>(string path) => (await _http.GetFromJsonAsync<T>(path, ApiJson.Options))!;

    private async Task<T> PostAsync<T>(string path, object? body)
    {
        using var answer = await _http.PostAsJsonAsync(path, body, ApiJson.Options);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return (await answer.Content.ReadFromJsonAsync<T>(ApiJson.Options))!;
    }
}
