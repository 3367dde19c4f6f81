using System.Text.Json.Nodes;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>Desks, inputs, health, the watch, metrics and the description of the interface.</summary>
public sealed class DesksApiTests(ApiStage stage) : IClassFixture<ApiStage>
{
    private static readonly string[] InputFields =
    [
        "input", "name", "source", "socket", "linkedTo", "peakDbfs", "heldPeakDbfs", "loudestPassageDbfs", "noiseFloorDbfs", "trimDb", "padOn", "phantomOn",
        "muted", "faderDb", "activity",
    ];

    [Fact]
    public async Task A_desk_is_a_bare_object_in_a_bare_array_with_its_link_and_its_counters()
    {
        var desk = Assert.Single((await stage.GetAsync("api/desks")).AsArray())!;

        Assert.Equal(("bench", "Bench desk", "live"), (Text(desk, "id"), Text(desk, "name"), Text(desk, "state")));
        Assert.All(new[] { "framesLost", "datagramsDropped", "datagramsMalformed" }, name => Assert.InRange(desk[name]!.GetValue<long>(), 0, 1000));
        Assert.True(desk.AsObject().ContainsKey("frameRate"));
        Assert.Equal("bench", Text(await stage.GetAsync("api/desks/bench"), "id"));
    }

    [Fact]
    public async Task An_input_answers_every_field_and_null_where_nothing_is_known()
    {
        await stage.PassAsync(2);
        var inputs = (await stage.GetAsync("api/desks/bench/inputs")).AsArray();

        Assert.Equal(ApiStage.Inputs, inputs.Count);
        Assert.All(inputs, input => Assert.All(InputFields, name => Assert.True(input!.AsObject().ContainsKey(name), name)));
        var third = inputs[2]!;
        Assert.Equal((3, "Bench 3", "box 3", false), (third["input"]!.GetValue<int>(), Text(third, "name"), Text(third, "socket"), third["muted"]!.GetValue<bool>()));
        Assert.Equal((30.0, -5.0), (third["trimDb"]!.GetValue<double>(), third["faderDb"]!.GetValue<double>()));
        Assert.Null(third["padOn"]);
        Assert.InRange(third["peakDbfs"]!.GetValue<double>(), -76, -70);
        Assert.Contains(Text(third, "activity"), new[] { "silent", "playing", "unknown" });
    }

    [Fact]
    public async Task Garbage_is_counted_as_malformed_and_the_link_stays_live()
    {
        var before = (await stage.GetAsync("api/desks/bench"))["datagramsMalformed"]!.GetValue<long>();

        stage.Desk.SendRaw([1, 2, 3]);
        stage.Desk.SendRaw("/no-zero-at-the-end"u8.ToArray());

        await ApiStage.UntilAsync(async () => (await stage.GetAsync("api/desks/bench"))["datagramsMalformed"]!.GetValue<long>() == before + 2);
        Assert.Equal("live", Text(await stage.GetAsync("api/desks/bench"), "state"));
    }

    [Fact]
    public async Task The_watch_is_turned_on_and_off_and_wants_to_be_told_which()
    {
        Assert.True((await stage.PostAsync("api/desks/bench/watch", """{"on":true}"""))["watching"]!.GetValue<bool>());
        Assert.False((await stage.PostAsync("api/desks/bench/watch", """{"on":false}"""))["watching"]!.GetValue<bool>());
        await ApiStage.ProblemAsync(await stage.SendAsync("api/desks/bench/watch", "{}"), 400, "on-missing");
    }

    [Fact]
    public async Task Health_is_ok_and_names_each_desk_with_its_link()
    {
        var health = await stage.GetAsync("api/health");

        Assert.Equal("ok", Text(health, "status"));
        Assert.True(health["journalWritable"]!.GetValue<bool>());
        Assert.Equal("live", Text(Assert.Single(health["desks"]!.AsArray())!, "state"));
    }

    [Fact]
    public async Task Metrics_are_prometheus_text_with_the_desk_as_a_label()
    {
        using var answer = await stage.Http.GetAsync("metrics", TestContext.Current.CancellationToken);

        Assert.Equal(("text/plain", 200), (answer.Content.Headers.ContentType?.MediaType, (int)answer.StatusCode));
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains("trimassist_desk_live", text, StringComparison.Ordinal);
        Assert.Contains("desk=\"bench\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_interface_describes_itself_and_names_every_path_of_the_contract()
    {
        var document = await stage.GetAsync("openapi/v1.json");

        Assert.StartsWith("3.", Text(document, "openapi"), StringComparison.Ordinal);
        var paths = document["paths"]!.AsObject().Select(path => path.Key).ToList();
        Assert.All(
            new[]
            {
                "/api/health", "/api/desks", "/api/desks/{desk}", "/api/desks/{desk}/inputs", "/api/desks/{desk}/checks", "/api/checks/{id}",
                "/api/checks/{id}/finish", "/api/desks/{desk}/watch", "/api/proposals", "/api/proposals/{id}", "/api/proposals/{id}/confirm",
                "/api/proposals/{id}/decline", "/api/alarms", "/api/alarms/{id}/acknowledge", "/api/alarms/{id}/shelve", "/api/events",
            },
            path => Assert.Contains(path, paths));
    }

    private static string Text(JsonNode node, string name) => node[name]!.GetValue<string>();
}

/// <summary>A desk whose meters stop.</summary>
public sealed class SilentDeskTests : IAsyncLifetime
{
    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task It_goes_stale_then_lost_with_null_levels_while_the_service_stays_up_and_an_alarm_stands()
    {
        await _stage.PassAsync(2);
        await _stage.WaitAsync(TimeSpan.FromSeconds(1));
        await StateBecomesAsync("stale");
        Assert.All((await _stage.GetAsync("api/desks/bench/inputs")).AsArray(), input => Assert.Null(input!["peakDbfs"]));

        await _stage.WaitAsync(TimeSpan.FromSeconds(6));
        await StateBecomesAsync("lost");
        Assert.Equal("ok", (await _stage.GetAsync("api/health"))["status"]!.GetValue<string>());
        var alarm = Assert.Single((await _stage.GetAsync("api/alarms?state=active")).AsArray())!;
        Assert.Equal(("desk-stale", null), (alarm["kind"]!.GetValue<string>(), alarm["input"]));

        await _stage.PostAsync($"api/alarms/{alarm["id"]}/acknowledge");
        await _stage.PassAsync(3);
        await StateBecomesAsync("live");
        await ApiStage.UntilAsync(async () =>
        {
            await _stage.PassAsync(1);
            return (await _stage.GetAsync("api/alarms?state=active")).AsArray().Count == 0;
        });
    }

    private Task StateBecomesAsync(string state) => ApiStage.UntilAsync(async () => (await _stage.GetAsync("api/desks/bench"))["state"]!.GetValue<string>() == state);
}
