using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Security;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>Two desks number their inputs alike: who was paired for inputs of the one may touch nothing on the other.</summary>
public sealed class OwnDeskTests : IAsyncDisposable
{
    private readonly LockstepTime _time = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-own-desk-");
    private ServiceBench? _bench;
    private Uri _address = null!;

    [Fact]
    public async Task A_room_confirms_and_declines_on_its_own_desk_only()
    {
        await StartAsync(desks: 2);
        using var band = Client(await TokenAsync("""{"role":"room","inputs":[1],"desk":"desk"}"""));
        var (own, others) = (await ProposeAsync("desk"), await ProposeAsync("other"));

        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(band, $"api/proposals/{others.Id}/confirm", $$"""{"digest":"{{others.Digest}}"}"""));
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(band, $"api/proposals/{others.Id}/decline", "{}"));
        Assert.Empty(_time.Desk.Writes);
        Assert.Equal(HttpStatusCode.OK, await PostAsync(band, $"api/proposals/{own.Id}/confirm", $$"""{"digest":"{{own.Digest}}"}"""));
    }

    [Fact]
    public async Task The_stage_asks_for_patches_on_its_own_desk_only()
    {
        await StartAsync(desks: 2);
        using var stage = Client(await TokenAsync("""{"role":"stage","inputs":[1],"desk":"desk"}"""));

        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(stage, "api/desks/other/inputs/1/patch", "{}"));
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(stage, "api/desks/other/inputs/1/patch/done", "{}"));
        Assert.Equal(HttpStatusCode.Created, await PostAsync(stage, "api/desks/desk/inputs/1/patch", "{}"));
    }

    [Theory]
    [InlineData("""{"role":"room","inputs":[1]}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"role":"stage"}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"role":"stage","desk":"nowhere"}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"role":"stage","desk":"other"}""", HttpStatusCode.Created)]
    [InlineData("""{"role":"guest"}""", HttpStatusCode.Created)]
    [InlineData("""{"role":"engineer"}""", HttpStatusCode.Created)]
    public async Task Where_there_are_two_desks_a_stage_or_a_room_is_told_its_own(string asked, HttpStatusCode expected)
    {
        await StartAsync(desks: 2);
        using var engineer = Client(Made(Role.Engineer, null));

        Assert.Equal(expected, await PostAsync(engineer, "api/pairing", asked));
    }

    [Theory]
    [InlineData(1, HttpStatusCode.Created)]
    [InlineData(2, HttpStatusCode.Forbidden)]
    public async Task A_credential_from_before_is_good_while_there_is_one_desk(int desks, HttpStatusCode expected)
    {
        await StartAsync(desks);
        using var stage = Client(Made(Role.Stage, [1]));

        Assert.Equal(expected, await PostAsync(stage, "api/desks/desk/inputs/1/patch", "{}"));
    }

    public async ValueTask DisposeAsync()
    {
        if (_bench is not null)
            await _bench.DisposeAsync();
        await _time.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private async Task StartAsync(int desks)
    {
        var port = FreePort.Find(ProtocolType.Tcp);
        _address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/"));
        _bench = await ServiceBench.StartAsync(_time, _folder, with: options => options with
        {
            Urls = string.Create(CultureInfo.InvariantCulture, $"http://0.0.0.0:{port}"),
            Profiles = [.. options.Profiles, .. Enumerable.Range(1, desks - 1).Select(_ => Other(options.Profiles[0]))],
        });
        var hosts = _bench.Service.Services.GetRequiredService<DeskHosts>();
        await ServiceBench.EventuallyAsync(
            async () => (await Task.WhenAll(hosts.All.Select(host => host.AskAsync(assistant => assistant.Link == LinkState.Live && assistant.Input(1).Settings is { Trim: not null, Muted: not null })))).All(known => known),
            "a desk never became live");
    }

    private string Other(string profile)
    {
        var file = Path.Combine(_folder.FullName, "other.toml");
        File.WriteAllText(file, File.ReadAllText(profile).Replace("id = \"desk\"", "id = \"other\"", StringComparison.Ordinal));
        return file;
    }

    private async Task<Proposal> ProposeAsync(string desk)
    {
        var host = _bench!.Service.Services.GetRequiredService<DeskHosts>().Find(desk)!;
        return await host.AskAsync(assistant => assistant.Propose(
            new TrimPlan([1], [new(ProposalKind.Trim, SettingValue.Gain(20), Saying.Plain("because"))], null, new ProposalEvidence()), host.Now())!);
    }

    private string Made(Role role, IReadOnlyList<int>? inputs) =>
        _bench!.Service.Services.GetRequiredService<CredentialStore>().Make("somebody", role, inputs, DateTimeOffset.UnixEpoch)!.Value.Token;

    private async Task<string> TokenAsync(string asked)
    {
        using var engineer = Client(Made(Role.Engineer, null));
        using var opened = await engineer.PostAsync("api/pairing", new StringContent(asked, Encoding.UTF8, "application/json"));
        var code = JsonNode.Parse(await opened.Content.ReadAsStringAsync())!["code"];
        using var paired = await engineer.PostAsync("pair", JsonContent.Create(new { code = code!.GetValue<string>() }));
        return JsonNode.Parse(await paired.Content.ReadAsStringAsync())!["token"]!.GetValue<string>();
    }

    private HttpClient Client(string token) => new() { BaseAddress = _address, DefaultRequestHeaders = { Authorization = new("Bearer", token) } };

    private static async Task<HttpStatusCode> PostAsync(HttpClient http, string path, string body)
    {
        using var answer = await http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        return answer.StatusCode;
    }
}
