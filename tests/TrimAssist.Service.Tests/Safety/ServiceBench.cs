using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Loops;
using TrimAssist.TestKit.Desks;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>The whole service with real sockets on both sides: a scripted desk there, HTTP here.</summary>
internal sealed class ServiceBench : IAsyncDisposable
{
    private readonly bool _ownsTime;

    private ServiceBench(LockstepTime time, bool ownsTime, DirectoryInfo folder, RunningService service)
    {
        (Time, _ownsTime, Folder, Service) = (time, ownsTime, folder, service);
        Time.Join(Host);
        Http = new HttpClient { BaseAddress = new Uri(service.Urls[0] + "/api/"), Timeout = TimeSpan.FromSeconds(30) };
    }

    public LockstepTime Time { get; }

    public UnrulyDesk Desk => Time.Desk;

    public DirectoryInfo Folder { get; }

    public RunningService Service { get; }

    public HttpClient Http { get; }

    public DeskHost Host => Service.Services.GetRequiredService<DeskHosts>().All[0];

    /// <summary>Starts a service against a desk on its clock (new ones unless given) and waits until the desk is live and has told its values.</summary>
    public static async Task<ServiceBench> StartAsync(
        LockstepTime? time = null, DirectoryInfo? folder = null, string? covers = null, Func<ServeOptions, ServeOptions>? with = null)
    {
        var own = time is null;
        time ??= new LockstepTime();
        folder ??= Directory.CreateTempSubdirectory("trimassist-bench-");
        var profile = covers is null ? time.Desk.WriteProfile(folder.FullName) : time.Desk.WriteProfile(folder.FullName, covers);
        var options = new ServeOptions { Profiles = [profile], DataFolder = folder.FullName, Urls = "http://127.0.0.1:0", Time = time.Clock };
        var bench = new ServiceBench(time, own, folder, await RunningService.StartAsync(with?.Invoke(options) ?? options, CancellationToken.None));
        await EventuallyAsync(
            async () => await bench.Host.AskAsync(assistant => assistant.Link == LinkState.Live && Enumerable.Range(1, UnrulyDesk.Inputs).All(input =>
                assistant.Input(input).Settings is { Trim: not null, Muted: not null, PhantomOn: not null })),
            "the desk never became live");
        return bench;
    }

    /// <summary>Waits until something holds, looking often.</summary>
    public static Task EventuallyAsync(Func<Task<bool>> holds, string otherwise, int seconds = 60) => EventuallyAsync(holds, () => otherwise, seconds);

    public async Task<JsonNode> GetAsync(string path) => (await Http.GetFromJsonAsync<JsonNode>(path))!;

    public async Task<(HttpStatusCode Status, JsonNode? Body)> PostAsync(string path, string? body = null)
    {
        using var answer = await Http.PostAsync(path, body is null ? null : new StringContent(body, Encoding.UTF8, "application/json"));
        var text = await answer.Content.ReadAsStringAsync();
        return (answer.StatusCode, text.Length > 0 ? JsonNode.Parse(text) : null);
    }

    public Task<(HttpStatusCode Status, JsonNode? Body)> ConfirmAsync(JsonNode proposal, string more = "") => PostAsync(
        $"proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"{{more}}}""");

    /// <summary>A trim proposal without a check of half a minute: made on the desk's loop from a plan of the test's own.</summary>
    public async Task<JsonNode> ProposeTrimAsync(double to, int input = 1)
    {
        var id = await Host.AskAsync(assistant => assistant.Propose(
            new TrimPlan([input], [new(ProposalKind.Trim, SettingValue.Gain(to), Saying.Plain("because"))], null, new ProposalEvidence()), Host.Now())!.Id);
        return await GetAsync($"proposals/{id}");
    }

    public async Task<JsonNode> StateAsync(JsonNode proposal, string state)
    {
        JsonNode? last = null;
        await EventuallyAsync(
            async () => (last = await GetAsync($"proposals/{proposal["id"]}"))["state"]!.GetValue<string>() == state, () => $"the proposal is {last}, never {state}");
        return last!;
    }

    /// <summary>Waits until a confirmed proposal has come to its end, and says to which.</summary>
    public async Task<string> SettledAsync(JsonNode proposal)
    {
        var state = "";
        await EventuallyAsync(
            async () => (state = (await GetAsync($"proposals/{proposal["id"]}"))["state"]!.GetValue<string>()) is not ("open" or "confirmed"), () => $"the proposal stays {state}");
        return state;
    }

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        Time.Leave(Host);
        await Service.DisposeAsync();
        if (_ownsTime)
            await Time.DisposeAsync();
        if (_ownsTime && Folder.Exists)
            Folder.Delete(recursive: true);
    }

    private static async Task EventuallyAsync(Func<Task<bool>> holds, Func<string> otherwise, int seconds = 60)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(20), TimeProvider.System);
        var began = TimeProvider.System.GetTimestamp();
        while (!await holds())
        {
            if (TimeProvider.System.GetElapsedTime(began) > TimeSpan.FromSeconds(seconds))
                throw new TimeoutException(otherwise());
            await timer.WaitForNextTickAsync();
        }
    }
}
