using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Access;

/// <summary>A rehearsal room with the whole program: the band's paired phone comes over the network, and may do what a room may do.</summary>
public sealed class RoomTests : IAsyncDisposable
{
    /// <summary>The players' own inputs; input 2 is somebody else's.</summary>
    private const string Own = "[1,3]";

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(120);

    private readonly UnrulyDesk _desk = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-room-");
    private readonly string _port = FreePort.Find(ProtocolType.Tcp).ToString(CultureInfo.InvariantCulture);

    [Fact]
    public async Task A_paired_phone_lowers_its_own_inputs_raises_them_in_small_steps_behind_the_mute_and_does_nothing_else()
    {
        await using var service = TheProgram.TrimAssist(
            "serve", "--room", "--desk", _desk.WriteProfile(_folder.FullName), "--data", _folder.FullName, "--urls", $"http://0.0.0.0:{_port}");
        using var engineer = Client();
        await Pairing.ServesAsync(engineer, service);
        engineer.DefaultRequestHeaders.Authorization = new("Bearer", await Pairing.FirstAsync(engineer, service));
        using var phone = Client();
        Assert.Equal(HttpStatusCode.Unauthorized, (await phone.GetAsync("room", Stopping)).StatusCode);
        var code = await Pairing.PostAsync(engineer, "api/pairing", $$"""{"role":"room","name":"the band","inputs":{{Own}}}""");
        phone.DefaultRequestHeaders.Authorization = new("Bearer", (await Pairing.PostAsync(phone, "pair", $$"""{"code":"{{code["code"]}}"}"""))["token"]!.GetValue<string>());

        await UntilAsync(async () => (await GetAsync(engineer, "api/desks/desk/inputs")).AsArray().All(input => input!["muted"] is not null && input["trimDb"] is not null));
        var proposals = await CheckAsync(engineer);
        await AssertRefusedAsync(phone, proposals[1]);
        await LowersAsync(phone, proposals[1]);
        await IsNotItsOwnAsync(phone, engineer, proposals[2]);
        await ClimbsAsync(phone, proposals[3]);

        Assert.Empty(Writes(2));
        Assert.Empty(Writes(4));
        var page = await phone.GetStringAsync("room", Stopping);
        Assert.Equal([true, false, true, false], Enumerable.Range(1, UnrulyDesk.Inputs).Select(input => page.Contains($"data-card=\"{input}\"", StringComparison.Ordinal)));
    }

    public async ValueTask DisposeAsync()
    {
        await _desk.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private static CancellationToken Stopping => TestContext.Current.CancellationToken;

    // Inputs 1 and 2 too hot, 3 too quiet. The engineer begins it, so that nobody waits for a minute's silence.
    private async Task<Dictionary<int, JsonNode>> CheckAsync(HttpClient engineer)
    {
        var check = await Pairing.PostAsync(engineer, "api/desks/desk/checks", """{"inputs":[1,2,3]}""");
        _desk.Play(1, -4);
        _desk.Play(2, -4);
        _desk.Play(3, -36);
        await UntilAsync(async () => (await GetAsync(engineer, $"api/checks/{check["id"]}"))["results"]!.AsArray().All(one => one!["activeS"]!.GetValue<double>() > 11));
        return (await Pairing.PostAsync(engineer, $"api/checks/{check["id"]}/finish", "{}"))["proposals"]!.AsArray().ToDictionary(one => one!["input"]!.GetValue<int>(), one => one!);
    }

    private async Task LowersAsync(HttpClient phone, JsonNode lower)
    {
        Assert.Equal("trim", lower["kind"]!.GetValue<string>());
        Assert.True(lower["to"]!.GetValue<double>() < 30);
        await ConfirmedAsync(phone, lower);
        Assert.Equal([string.Create(CultureInfo.InvariantCulture, $"/desk/1/gain {lower["to"]!.GetValue<double>()}")], Writes(1));
    }

    private static async Task IsNotItsOwnAsync(HttpClient phone, HttpClient engineer, JsonNode others)
    {
        await RefusedAsync(await ConfirmAsync(phone, others));
        await RefusedAsync(await PostAsync(phone, $"api/proposals/{others["id"]}/decline", "{}"));
        await RefusedAsync(await PostAsync(phone, "api/desks/desk/inputs/2/patch", "{}"));
        Assert.Equal("open", (await GetAsync(engineer, $"api/proposals/{others["id"]}"))["state"]!.GetValue<string>());
    }

    private async Task ClimbsAsync(HttpClient phone, JsonNode first)
    {
        Assert.Equal("mute", first["kind"]!.GetValue<string>());
        await ConfirmedAsync(phone, first);
        var step = await NextAsync(phone, first);
        Assert.Equal((30.0, 33.0), (step["from"]!.GetValue<double>(), step["to"]!.GetValue<double>()));

        // Somebody opens it at the desk: nobody but an engineer raises what is heard.
        await TurnAsync(phone, muted: false);
        await RefusedAsync(await ConfirmAsync(phone, await GetAsync(phone, $"api/proposals/{step["id"]}")));
        await TurnAsync(phone, muted: true);

        while (step["kind"]!.GetValue<string>() == "trim")
        {
            Assert.True(step["to"]!.GetValue<double>() - step["from"]!.GetValue<double>() <= 3, step.ToJsonString());
            await ConfirmedAsync(phone, step);
            step = await NextAsync(phone, step);
        }

        Assert.Equal("unmute", step["kind"]!.GetValue<string>());
        await ConfirmedAsync(phone, step);
        Assert.Equal(["/desk/3/closed 1", "/desk/3/gain 33", "/desk/3/gain 36", "/desk/3/gain 39", "/desk/3/gain 42", "/desk/3/closed 0"], Writes(3));
    }

    private async Task AssertRefusedAsync(HttpClient phone, JsonNode proposal)
    {
        foreach (var path in new[]
        {
            "api/desks/desk/watch", "api/desks/desk/checks", "api/desks/desk/acts", "api/desks/desk/acts/end", "api/pairing",
            $"api/proposals/{proposal["id"]}/undo", $"api/proposals/{proposal["id"]}/mute-first", $"api/alarms/{Guid.NewGuid()}/acknowledge",
        })
        {
            Assert.Equal((path, HttpStatusCode.Forbidden), (path, (await PostAsync(phone, path, "{}")).StatusCode));
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await phone.GetAsync("", Stopping)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.GetAsync("api/credentials", Stopping)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.DeleteAsync("api/players/Ada", Stopping)).StatusCode);
        Assert.Empty(_desk.Writes);
    }

    private async Task TurnAsync(HttpClient http, bool muted)
    {
        _desk.Turn("/desk/3/closed", OscArgument.Of(muted ? 1 : 0), told: true);
        await UntilAsync(async () => (await GetAsync(http, "api/desks/desk/inputs"))[2]!["muted"]!.GetValue<bool>() == muted);
    }

    private static async Task ConfirmedAsync(HttpClient http, JsonNode proposal)
    {
        using var answer = await ConfirmAsync(http, proposal);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync(Stopping));
        await UntilAsync(async () => (await GetAsync(http, $"api/proposals/{proposal["id"]}"))["state"]!.GetValue<string>() == "applied");
    }

    private static async Task<JsonNode> NextAsync(HttpClient http, JsonNode done)
    {
        JsonNode? next = null;
        await UntilAsync(async () => (next = (await GetAsync(http, "api/proposals?state=open")).AsArray().FirstOrDefault(one =>
            one!["sequenceId"]!.GetValue<Guid>() == done["sequenceId"]!.GetValue<Guid>() && one["step"]!.GetValue<int>() == done["step"]!.GetValue<int>() + 1)) is not null);
        return next!;
    }

    private static async Task RefusedAsync(HttpResponseMessage answer)
    {
        using (answer)
            Assert.Equal((HttpStatusCode.Forbidden, "not-allowed"), (answer.StatusCode, (await answer.Content.ReadFromJsonAsync<JsonNode>(Stopping))!["code"]!.GetValue<string>()));
    }

    private static Task<HttpResponseMessage> ConfirmAsync(HttpClient http, JsonNode proposal) =>
        PostAsync(http, $"api/proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}","acknowledge":{{proposal["needs"]!.ToJsonString()}}}""");

    private static Task<HttpResponseMessage> PostAsync(HttpClient http, string path, string body) =>
        http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"), Stopping);

    private static async Task<JsonNode> GetAsync(HttpClient http, string path) => (await http.GetFromJsonAsync<JsonNode>(path, Stopping))!;

    private static Task UntilAsync(Func<Task<bool>> holds) => TheProgram.EventuallyAsync(holds, Patience, () => "it never came");

    private string[] Writes(int input) => [.. _desk.Writes.Where(write => write.StartsWith($"/desk/{input}/", StringComparison.Ordinal))];

    // As another machine would come: by an address of the network. Where this machine has none, loopback counts as any other caller here.
    private HttpClient Client() => new() { BaseAddress = new Uri($"http://{OwnAddress()}:{_port}/") };

    private static IPAddress OwnAddress() => NetworkInterface.GetAllNetworkInterfaces()
        .Where(card => card.OperationalStatus == OperationalStatus.Up)
        .SelectMany(card => card.GetIPProperties().UnicastAddresses)
        .Select(one => one.Address)
        .FirstOrDefault(address => address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address)) ?? IPAddress.Loopback;
}
