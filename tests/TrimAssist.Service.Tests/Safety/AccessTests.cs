using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using TrimAssist.Core.Wording;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Security;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>Who may ask for what, over a real socket that is not bound to loopback alone.</summary>
public sealed class AccessTests : IAsyncLifetime
{
    private readonly LockstepTime _time = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-access-");
    private ServiceBench _bench = null!;
    private Uri _address = null!;

    public async ValueTask InitializeAsync()
    {
        var port = FreePort.Find(ProtocolType.Tcp);
        _bench = await ServiceBench.StartAsync(_time, _folder, with: options => options with { Urls = string.Create(CultureInfo.InvariantCulture, $"http://0.0.0.0:{port}") });
        _address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/"));
    }

    // The web server's own settings may open addresses that the service was never told of.
    [Theory]
    [InlineData("127.0.0.1", 200)]
    [InlineData("::ffff:127.0.0.1", 200)]
    [InlineData("192.0.2.7", 401)]
    [InlineData("::ffff:192.0.2.7", 401)]
    public async Task Whoever_reaches_an_address_that_is_not_loopback_needs_a_credential_whatever_was_asked_for(string reached, int status)
    {
        await using var services = new ServiceCollection().AddLogging().AddProblemDetails().BuildServiceProvider();
        var guard = new AccessGuard(_ => Task.CompletedTask, [new Uri("http://127.0.0.1:5188")], ["desk"], new CredentialStore(_folder.FullName));
        var context = new DefaultHttpContext { RequestServices = services };
        (context.Connection.LocalIpAddress, context.Connection.LocalPort) = (IPAddress.Parse(reached), 5188);
        (context.Request.Method, context.Request.Path) = ("GET", "/api/desks");

        await guard.InvokeAsync(context);

        Assert.Equal(status, context.Response.StatusCode);
    }

    [Theory]
    [InlineData("GET", "")]
    [InlineData("GET", "stage")]
    [InlineData("GET", "api/desks")]
    [InlineData("GET", "api/proposals")]
    [InlineData("GET", "api/events")]
    [InlineData("GET", "metrics")]
    [InlineData("GET", "openapi/v1.json")]
    [InlineData("GET", "page.css")]
    [InlineData("POST", "_blazor/negotiate")]
    [InlineData("POST", "api/pairing")]
    [InlineData("POST", "api/desks/desk/watch")]
    [InlineData("POST", "api/desks/desk/inputs/1/patch")]
    public async Task Without_a_credential_everything_is_refused_to_loopback_callers_too(string method, string path)
    {
        using var http = Client(null);
        using var answer = await http.SendAsync(new HttpRequestMessage(new HttpMethod(method), path));

        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.Equal("credential-needed", (await answer.Content.ReadFromJsonAsync<JsonNode>())!["code"]!.GetValue<string>());
    }

    [Theory]
    [InlineData("api/health")]
    [InlineData("pair")]
    [InlineData("pair.css")]
    public async Task Health_and_pairing_are_open(string path)
    {
        using var http = Client(null);

        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync(path)).StatusCode);
    }

    [Fact]
    public async Task A_code_makes_one_credential_once_and_only_its_hash_is_kept()
    {
        var code = Open(Role.Engineer);
        using var http = Client(null);
        var paired = await PairAsync(http, code.ToLowerInvariant());
        Assert.Equal(HttpStatusCode.Forbidden, (await PostAsync(http, "pair", $$"""{"code":"{{code}}"}""")).Status);

        var token = paired["token"]!.GetValue<string>();
        Assert.DoesNotContain(token, await File.ReadAllTextAsync(Path.Combine(_folder.FullName, "credentials.json")), StringComparison.OrdinalIgnoreCase);
        using var engineer = Client(token);
        Assert.Equal(HttpStatusCode.OK, (await engineer.GetAsync("api/proposals")).StatusCode);
    }

    [Fact]
    public async Task A_revoked_credential_is_nobodys_at_once()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        using var guest = Client(await TokenAsync(Role.Guest));
        Assert.Equal(HttpStatusCode.OK, (await guest.GetAsync("api/desks")).StatusCode);
        var id = (await engineer.GetFromJsonAsync<JsonNode>("api/credentials"))!.AsArray().Single(one => one!["role"]!.GetValue<string>() == "guest")!["id"];
        Assert.Equal(HttpStatusCode.NoContent, (await engineer.DeleteAsync($"api/credentials/{id}")).StatusCode);

        Assert.Equal(HttpStatusCode.Unauthorized, (await guest.GetAsync("api/desks")).StatusCode);
    }

    [Fact]
    public async Task A_credential_is_cut_off_even_where_that_cannot_be_written_down_and_the_answer_says_so()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        using var guest = Client(await TokenAsync(Role.Guest));
        var id = (await engineer.GetFromJsonAsync<JsonNode>("api/credentials"))!.AsArray().Single(one => one!["role"]!.GetValue<string>() == "guest")!["id"];
        // A folder in the place of the file that is written first: no user may write there, not even the system's.
        Directory.CreateDirectory(Path.Combine(_folder.FullName, "credentials.json.part"));

        var answer = await engineer.DeleteAsync($"api/credentials/{id}");

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Contains("after a restart", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Unauthorized, (await guest.GetAsync("api/desks")).StatusCode);
    }

    [Fact]
    public async Task A_revoked_credentials_event_stream_ends_and_no_other()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        using var guest = Client(await TokenAsync(Role.Guest));
        await using var theirs = await guest.GetStreamAsync("api/events");
        await using var ours = await engineer.GetStreamAsync("api/events");
        var id = (await engineer.GetFromJsonAsync<JsonNode>("api/credentials"))!.AsArray().Single(one => one!["role"]!.GetValue<string>() == "guest")!["id"];
        await engineer.DeleteAsync($"api/credentials/{id}");

        await ReadToEndAsync(theirs).WaitAsync(TimeSpan.FromMinutes(1), TimeProvider.System);
        Assert.NotEqual(0, await ours.ReadAsync(new byte[1]));
    }

    [Fact]
    public async Task An_engineer_who_takes_back_the_own_credential_hears_that_it_is_gone()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        var id = (await engineer.GetFromJsonAsync<JsonNode>("api/credentials"))!.AsArray().Single()!["id"];

        Assert.Equal(HttpStatusCode.NoContent, (await engineer.DeleteAsync($"api/credentials/{id}")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await engineer.GetAsync("api/desks")).StatusCode);
    }

    [Fact]
    public async Task An_engineer_opens_a_code_over_HTTP_and_what_it_makes_may_do_what_was_said()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        var (status, code) = await PostAsync(engineer, "api/pairing", """{"role":"stage","inputs":[2],"name":"stage left"}""");
        Assert.Equal(HttpStatusCode.Created, status);
        Assert.True(code!["expiresAt"]!.GetValue<DateTimeOffset>() - TimeProvider.System.GetUtcNow() <= PairingDesk.Life);
        using var http = Client(null);
        using var stage = Client((await PairAsync(http, code["code"]!.GetValue<string>()))["token"]!.GetValue<string>());

        Assert.Equal(HttpStatusCode.Created, (await PostAsync(stage, "api/desks/desk/inputs/2/patch", "{}")).Status);
        await AssertForbiddenAsync(stage, "POST", "api/desks/desk/inputs/1/patch");
    }

    [Theory]
    [InlineData(-1, true)]
    [InlineData(0, false)]
    public void A_code_is_good_for_five_minutes_whatever_the_wall_clock_says(int secondsOver, bool good)
    {
        var time = new JumpingTime(new SteppedTime(DateTimeOffset.UnixEpoch));
        var pairing = new PairingDesk(time);
        var code = pairing.Open("guest", Role.Guest, null).Code;
        time.WallClockOff = TimeSpan.FromHours(3);
        time.Forward(PairingDesk.Life + TimeSpan.FromSeconds(secondsOver));

        Assert.Equal(good, pairing.Take(code, out _) is not null);
    }

    [Fact]
    public async Task Health_warns_of_an_address_for_others_without_https_and_of_nothing_on_loopback()
    {
        using var http = Client(null);
        await using var local = await ServiceBench.StartAsync();

        Assert.Equal("no-https", (await http.GetFromJsonAsync<JsonNode>("api/health"))!["warnings"]!.AsArray().Single()!.GetValue<string>());
        Assert.Empty((await local.GetAsync("health"))["warnings"]!.AsArray());
    }

    [Fact]
    public async Task A_token_in_the_address_counts_for_nothing()
    {
        var token = await TokenAsync(Role.Engineer);
        using var http = Client(null);

        foreach (var name in new[] { "access_token", "token", "trimassist" })
            Assert.Equal(HttpStatusCode.Unauthorized, (await http.GetAsync($"api/desks?{name}={token}")).StatusCode);
    }

    [Theory]
    [InlineData("GET", "api/./credentials")]
    [InlineData("GET", "api/desks/../credentials")]
    [InlineData("GET", "api/desks/%2e%2e/credentials")]
    [InlineData("GET", "API/CREDENTIALS")]
    [InlineData("GET", "api/credentials/")]
    [InlineData("GET", "metrics")]
    [InlineData("GET", "metrics/x.css")]
    [InlineData("GET", "desks/desk")]
    [InlineData("GET", "stage")]
    [InlineData("POST", "API/Pairing")]
    [InlineData("POST", "api/desks/desk/watch/")]
    [InlineData("PATCH", "api/desks/desk/watch")]
    public async Task No_spelling_of_a_path_gives_a_guest_more(string method, string path)
    {
        using var guest = Client(await TokenAsync(Role.Guest));

        await AssertForbiddenAsync(guest, method, path);
    }

    [Fact]
    public async Task One_credential_cannot_take_every_event_stream()
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        using var guest = Client(await TokenAsync(Role.Guest));
        var streams = new List<HttpResponseMessage>();
        try
        {
            for (var i = 0; i < Events.EventHub.MaxOfOne; i++)
                streams.Add(await guest.GetAsync("api/events", HttpCompletionOption.ResponseHeadersRead));
            Assert.All(streams, stream => Assert.Equal(HttpStatusCode.OK, stream.StatusCode));

            Assert.Equal(HttpStatusCode.ServiceUnavailable, (await guest.GetAsync("api/events", HttpCompletionOption.ResponseHeadersRead)).StatusCode);
            streams.Add(await engineer.GetAsync("api/events", HttpCompletionOption.ResponseHeadersRead));
            Assert.Equal(HttpStatusCode.OK, streams[^1].StatusCode);
        }
        finally
        {
            streams.ForEach(stream => stream.Dispose());
        }
    }

    [Fact]
    public async Task Guessing_codes_is_stopped_after_five_wrong_ones_for_the_right_one_too()
    {
        var code = Open(Role.Guest);
        using var http = Client(null);
        for (var i = 0; i < PairingDesk.WrongAllowed; i++)
            Assert.Equal(HttpStatusCode.Forbidden, (await PostAsync(http, "pair", $$"""{"code":"WRONG{{i}}"}""")).Status);

        Assert.Equal(HttpStatusCode.TooManyRequests, (await PostAsync(http, "pair", $$"""{"code":"{{code}}"}""")).Status);
    }

    [Fact]
    public async Task The_stage_may_patch_its_own_inputs_and_nothing_else()
    {
        using var stage = Client(await TokenAsync(Role.Stage, 1));
        var proposal = await ProposeAsync(20);

        Assert.Equal(HttpStatusCode.Created, (await PostAsync(stage, "api/desks/desk/inputs/1/patch", "{}")).Status);
        Assert.Equal(HttpStatusCode.OK, (await stage.GetAsync("api/desks/desk/inputs/1/patch")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await stage.GetAsync("page.css")).StatusCode);
        await AssertForbiddenAsync(stage, "POST", "api/desks/desk/inputs/2/patch");
        await AssertForbiddenAsync(stage, "POST", $"api/proposals/{proposal["id"]}/confirm");
        await AssertForbiddenAsync(stage, "POST", "api/desks/desk/watch");
        await AssertForbiddenAsync(stage, "GET", "api/events");
        await AssertForbiddenAsync(stage, "GET", "api/proposals");
        await AssertForbiddenAsync(stage, "GET", "");
        await AssertForbiddenAsync(stage, "GET", "desks/desk");
        await AssertForbiddenAsync(stage, "GET", "desks/desk.x");
        await AssertForbiddenAsync(stage, "POST", "api/pairing");
        Assert.Empty(_time.Desk.Writes);
    }

    [Fact]
    public async Task A_guest_may_look_at_data_and_change_nothing()
    {
        using var guest = Client(await TokenAsync(Role.Guest));
        var proposal = await ProposeAsync(20);

        Assert.Equal(HttpStatusCode.OK, (await guest.GetAsync("api/proposals")).StatusCode);
        await AssertForbiddenAsync(guest, "POST", $"api/proposals/{proposal["id"]}/confirm");
        await AssertForbiddenAsync(guest, "POST", $"api/proposals/{proposal["id"]}/decline");
        await AssertForbiddenAsync(guest, "POST", "api/desks/desk/inputs/1/patch");
        await AssertForbiddenAsync(guest, "GET", "api/credentials");
        await AssertForbiddenAsync(guest, "GET", "");
        await AssertForbiddenAsync(guest, "POST", "_blazor/negotiate");
        Assert.Empty(_time.Desk.Writes);
    }

    [Theory]
    [InlineData(1, 20, false, HttpStatusCode.OK)]
    [InlineData(1, 32, false, HttpStatusCode.Forbidden)]
    [InlineData(1, 33, true, HttpStatusCode.OK)]
    [InlineData(1, 34, true, HttpStatusCode.Forbidden)]
    [InlineData(2, 20, false, HttpStatusCode.Forbidden)]
    public async Task A_room_confirms_on_its_own_inputs_decreases_and_small_increases_while_muted(int input, double to, bool muted, HttpStatusCode expected)
    {
        using var room = Client(await TokenAsync(Role.Room, 1));
        if (muted)
        {
            _time.Desk.Turn($"/desk/{input}/closed", OscArgument.Of(1), told: true);
            await ServiceBench.EventuallyAsync(async () => await _bench.Host.AskAsync(assistant => assistant.Input(input).Settings.Muted is true), "the mute was never heard");
        }

        var proposal = await ProposeAsync(to, input);
        var answer = await PostAsync(room, $"api/proposals/{proposal["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"}""");

        Assert.Equal(expected, answer.Status);
        await AssertForbiddenAsync(room, "POST", "api/desks/desk/watch");
        await AssertForbiddenAsync(room, "POST", $"api/proposals/{proposal["id"]}/undo");
        if (expected != HttpStatusCode.OK)
            Assert.Empty(_time.Desk.Writes);
    }

    [Theory]
    [InlineData("room")]
    [InlineData("desks/desk/room")]
    public async Task A_rooms_page_is_the_rooms_and_shows_its_own_inputs_whatever_the_address_says(string path)
    {
        using var room = Client(await TokenAsync(Role.Room, 2));
        using var stage = Client(await TokenAsync(Role.Stage));

        var page = await room.GetStringAsync($"{path}?input=1", TestContext.Current.CancellationToken);

        Assert.Contains("data-card=\"2\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain("data-card=\"1\"", page, StringComparison.Ordinal);
        await AssertForbiddenAsync(stage, "GET", path);
        await AssertForbiddenAsync(room, "GET", "");
    }

    [Theory]
    [InlineData("api/health", false, HttpStatusCode.OK)]
    [InlineData("pair", false, HttpStatusCode.OK)]
    [InlineData("api/desks", false, HttpStatusCode.Unauthorized)]
    [InlineData("", true, HttpStatusCode.OK)]
    [InlineData("page.css", true, HttpStatusCode.OK)]
    [InlineData("api/proposals/nothing", true, HttpStatusCode.NotFound)]
    public async Task Every_answer_keeps_a_browser_strict_and_names_no_server(string path, bool paired, HttpStatusCode expected)
    {
        using var http = Client(paired ? await TokenAsync(Role.Engineer) : null);
        using var answer = await http.GetAsync(path);

        Assert.Equal(expected, answer.StatusCode);
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy")).Split(';', StringSplitOptions.TrimEntries);
        Assert.All(["default-src 'self'", "script-src 'self'", "style-src 'self'", "object-src 'none'", "base-uri 'self'", "frame-ancestors 'none'"], rule => Assert.Contains(rule, policy));
        Assert.DoesNotContain(policy, rule => rule.Contains("unsafe", StringComparison.Ordinal) || rule.Contains('*') || rule.Contains("http", StringComparison.Ordinal));
        Assert.Equal(
            ("nosniff", "DENY", "same-origin"),
            (answer.Headers.GetValues("X-Content-Type-Options").Single(), answer.Headers.GetValues("X-Frame-Options").Single(), answer.Headers.GetValues("Referrer-Policy").Single()));
        Assert.False(answer.Headers.Contains("Server"));
    }

    [Theory]
    [InlineData("Host", "evil.example")]
    [InlineData("Origin", "http://evil.example")]
    [InlineData("Origin", "null")]
    public async Task A_foreign_origin_or_host_changes_nothing(string header, string value)
    {
        using var engineer = Client(await TokenAsync(Role.Engineer));
        using var asked = new HttpRequestMessage(HttpMethod.Post, "api/desks/desk/watch") { Content = new StringContent("""{"on":true}""", Encoding.UTF8, "application/json") };
        asked.Headers.TryAddWithoutValidation(header, value);

        Assert.Equal(HttpStatusCode.Forbidden, (await engineer.SendAsync(asked)).StatusCode);
        Assert.False((await _bench.Host.DescribeAsync()).Watching);
    }

    [Fact]
    public async Task The_cookie_of_a_paired_browser_is_out_of_reach_of_scripts_and_other_sites()
    {
        using var http = Client(null);
        using var answer = await http.PostAsync("pair", new FormUrlEncodedContent([new("code", Open(Role.Engineer))]));

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Whoever_types_a_wrong_code_into_the_form_gets_the_form_again_in_their_language()
    {
        using var http = Client(null);
        using var answer = await http.PostAsync("pair", new FormUrlEncodedContent([new("code", "NOTACODE")]));
        Assert.Equal("/pair?refused=wrong-code", answer.Headers.Location!.OriginalString);

        http.DefaultRequestHeaders.AcceptLanguage.ParseAdd("de-DE");
        var form = await http.GetStringAsync(answer.Headers.Location);
        Assert.Contains("<html lang=\"de\">", form, StringComparison.Ordinal);
        Assert.Contains("Das ist kein Code", form, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Over_loopback_a_proxys_request_is_not_a_local_one_and_a_rebound_name_reads_nothing()
    {
        await using var bench = await ServiceBench.StartAsync();
        Assert.Equal(HttpStatusCode.OK, (await bench.Http.GetAsync("desks")).StatusCode);
        foreach (var header in new[] { "X-Forwarded-For", "x-forwarded-proto", "Forwarded", "Via", "X-Real-IP", "True-Client-IP" })
            Assert.Equal(HttpStatusCode.Unauthorized, await GetWithAsync(bench, (header, "192.0.2.7")));

        foreach (var host in new[] { "evil.example", "127.0.0.1.evil.example", "localhost.evil.example", "0.0.0.0", "192.0.2.7" })
            Assert.Equal(HttpStatusCode.Forbidden, await GetWithAsync(bench, ("Host", host)));
    }

    [Theory]
    [InlineData("cross-site", "no-cors", HttpStatusCode.Forbidden)]
    [InlineData("cross-site", "cors", HttpStatusCode.Forbidden)]
    [InlineData("same-site", "no-cors", HttpStatusCode.Forbidden)]
    [InlineData("cross-site", "navigate", HttpStatusCode.OK)]
    [InlineData("same-origin", "cors", HttpStatusCode.OK)]
    [InlineData("none", "navigate", HttpStatusCode.OK)]
    public async Task What_a_browser_fetches_for_another_site_is_refused_reading_included(string site, string mode, HttpStatusCode expected)
    {
        await using var bench = await ServiceBench.StartAsync();

        Assert.Equal(expected, await GetWithAsync(bench, ("Sec-Fetch-Site", site), ("Sec-Fetch-Mode", mode)));
    }

    [Theory]
    [InlineData("pair", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("api/desks/desk/watch", HttpStatusCode.Unauthorized)]
    public async Task A_body_in_an_encoding_that_nobody_knows_is_refused_and_no_fault(string path, HttpStatusCode expected)
    {
        using var http = Client(null);
        using var body = new ByteArrayContent("{}"u8.ToArray());
        body.Headers.TryAddWithoutValidation("Content-Type", "application/json; charset=bogus");
        using var answer = await http.PostAsync(path, body);

        Assert.Equal(expected, answer.StatusCode);
    }

    [Theory]
    [InlineData("application/json; charset=\"utf-8\"")]
    [InlineData("application/json; charset=\"UTF-8\"")]
    [InlineData("application/json;charset=\"u\\tf-8\"")]
    [InlineData("application/json; charset=utf-8")]
    [InlineData("application/json; charset=\"us-ascii\"")]
    public async Task A_charset_may_stand_in_quotes(string type)
    {
        await using var bench = await ServiceBench.StartAsync();
        using var body = new ByteArrayContent("""{"on":true}"""u8.ToArray());
        body.Headers.TryAddWithoutValidation("Content-Type", type);
        using var answer = await bench.Http.PostAsync("desks/desk/watch", body);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("application/json; charset=\"bogus\"")]
    [InlineData("application/json; charset=\"\"")]
    public async Task A_charset_that_nobody_knows_is_refused_in_quotes_too(string type)
    {
        await using var bench = await ServiceBench.StartAsync();
        using var body = new ByteArrayContent("""{"on":true}"""u8.ToArray());
        body.Headers.TryAddWithoutValidation("Content-Type", type);
        using var answer = await bench.Http.PostAsync("desks/desk/watch", body);

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.StatusCode);
    }

    [Fact]
    public async Task More_than_sixty_four_kibibytes_are_too_large_wherever_they_are_sent()
    {
        await using var bench = await ServiceBench.StartAsync();
        var proposal = await bench.ProposeTrimAsync(20);
        var body = $$"""{"digest":"{{new string('0', 70_000)}}"}""";

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await bench.PostAsync($"proposals/{proposal["id"]}/confirm", body)).Status);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await bench.PostAsync($"proposals/{proposal["id"]}/decline", body)).Status);
    }

    [Fact]
    public async Task Event_streams_are_bounded_and_this_machine_cannot_take_them_all()
    {
        await using var bench = await ServiceBench.StartAsync();
        var streams = new List<HttpResponseMessage>();
        try
        {
            for (var i = 0; i < Events.EventHub.MaxWithout; i++)
                streams.Add(await bench.Http.GetAsync("events", HttpCompletionOption.ResponseHeadersRead));
            Assert.All(streams, stream => Assert.Equal(HttpStatusCode.OK, stream.StatusCode));

            Assert.Equal(HttpStatusCode.ServiceUnavailable, (await bench.Http.GetAsync("events", HttpCompletionOption.ResponseHeadersRead)).StatusCode);
            Assert.True(Events.EventHub.MaxWithout < Events.EventHub.MaxClients);
        }
        finally
        {
            streams.ForEach(stream => stream.Dispose());
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _bench.DisposeAsync();
        await _time.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private static async Task<HttpStatusCode> GetWithAsync(ServiceBench bench, params (string Name, string Value)[] headers)
    {
        using var asked = new HttpRequestMessage(HttpMethod.Get, "desks");
        foreach (var (name, value) in headers)
            asked.Headers.TryAddWithoutValidation(name, value);
        using var answer = await bench.Http.SendAsync(asked);
        return answer.StatusCode;
    }

    // A stream that is cut may end as if it were over, or with an error.
    private static async Task ReadToEndAsync(Stream stream)
    {
        try
        {
            await stream.CopyToAsync(Stream.Null);
        }
        catch (IOException)
        {
            // Cut.
        }
    }

    private string Open(Role role, params int[] inputs) =>
        _bench.Service.Services.GetRequiredService<PairingDesk>().Open(role.ToString(), role, inputs.Length > 0 ? inputs : null).Code;

    private async Task<string> TokenAsync(Role role, params int[] inputs)
    {
        using var http = Client(null);
        return (await PairAsync(http, Open(role, inputs)))["token"]!.GetValue<string>();
    }

    private static async Task<JsonNode> PairAsync(HttpClient http, string code) => (await PostAsync(http, "pair", $$"""{"code":"{{code}}"}""")).Body!;

    private async Task<JsonNode> ProposeAsync(double to, int input = 1)
    {
        var id = await _bench.Host.AskAsync(assistant => assistant.Propose(
            new([input], [new(Core.Proposals.ProposalKind.Trim, Core.Desks.SettingValue.Gain(to), Saying.Plain("because"))], null, new()), _bench.Host.Now())!.Id);
        using var engineer = Client(await TokenAsync(Role.Engineer));
        return (await engineer.GetFromJsonAsync<JsonNode>($"api/proposals/{id}"))!;
    }

    private HttpClient Client(string? token)
    {
        var http = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = _address };
        if (token is not null)
            http.DefaultRequestHeaders.Authorization = new("Bearer", token);
        return http;
    }

    private static async Task AssertForbiddenAsync(HttpClient http, string method, string path)
    {
        using var answer = await http.SendAsync(new HttpRequestMessage(new HttpMethod(method), path));
        Assert.Equal((path, HttpStatusCode.Forbidden), (path, answer.StatusCode));
    }

    private static async Task<(HttpStatusCode Status, JsonNode? Body)> PostAsync(HttpClient http, string path, string body)
    {
        using var answer = await http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        return (answer.StatusCode, await answer.Content.ReadFromJsonAsync<JsonNode>());
    }
}
