using System.Text.Json.Nodes;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>Sound checks over HTTP.</summary>
public sealed class ChecksApiTests(ApiStage stage) : IClassFixture<ApiStage>
{
    [Fact]
    public async Task A_check_is_created_with_a_place_and_listens_to_the_inputs_asked_for()
    {
        using var answer = await stage.SendAsync("api/desks/bench/checks", """{"inputs":[2,1,2]}""");
        var check = JsonNode.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken))!;

        Assert.Equal(201, (int)answer.StatusCode);
        Assert.Equal($"/api/checks/{check["id"]}", answer.Headers.Location?.ToString());
        Assert.Equal(("bench", "listening", "[1,2]"), (check["desk"]!.GetValue<string>(), check["state"]!.GetValue<string>(), check["inputs"]!.ToJsonString()));
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("""{"inputs":null}""")]
    [InlineData(null)]
    public async Task Without_inputs_a_check_listens_to_all(string? body)
    {
        var check = await stage.PostAsync("api/desks/bench/checks", body, 201);

        Assert.Equal(ApiStage.Inputs, check["inputs"]!.AsArray().Count);
    }

    [Theory]
    [InlineData("""{"inputs":[]}""")]
    [InlineData("""{"inputs":[0]}""")]
    [InlineData("""{"inputs":[1,99]}""")]
    public async Task Inputs_that_the_desk_does_not_have_are_refused(string body) =>
        await ApiStage.ProblemAsync(await stage.SendAsync("api/desks/bench/checks", body), 400, "bad-inputs");

    [Fact]
    public async Task Too_little_playing_is_withheld_with_a_reason_and_makes_no_proposal()
    {
        var check = await stage.StartCheckAsync(5);
        stage.Desk.Play(5, -20);
        await stage.PassAsync(60);
        stage.Desk.Rest();

        var sofar = await stage.GetAsync($"api/checks/{check["id"]}");
        Assert.Contains("want 10", Result(sofar)["withheld"]!.GetValue<string>(), StringComparison.Ordinal);
        var finished = await stage.PostAsync($"api/checks/{check["id"]}/finish", status: 200);
        Assert.Equal("finished", finished["state"]!.GetValue<string>());
        Assert.Empty(finished["proposals"]!.AsArray());
        Assert.NotNull(Result(finished)["withheld"]);
    }

    [Fact]
    public async Task A_check_that_was_played_answers_what_was_heard_and_its_proposals_and_finishing_twice_the_same()
    {
        var finished = await stage.CheckAsync((3, -6), (4, -38));

        var proposals = finished["proposals"]!.AsArray();
        Assert.Equal([3, 4], proposals.Select(proposal => proposal!["input"]!.GetValue<int>()));
        Assert.All(finished["results"]!.AsArray(), result =>
        {
            Assert.InRange(result!["activeS"]!.GetValue<double>(), 10, 15);
            Assert.True(result["predictedLowDbfs"]!.GetValue<double>() < result["predictedHighDbfs"]!.GetValue<double>());
            Assert.NotNull(result["loudestPassage"]!["levelDbfs"]);
        });
        var again = await stage.PostAsync($"api/checks/{finished["id"]}/finish");
        Assert.Equal(
            proposals.Select(proposal => proposal!["id"]!.ToJsonString()),
            again["proposals"]!.AsArray().Select(proposal => proposal!["id"]!.ToJsonString()));
    }

    [Fact]
    public async Task A_newer_check_of_an_input_ends_the_older_and_closes_its_proposal()
    {
        var proposal = await stage.ProposalAsync(6, -6);

        var first = await stage.StartCheckAsync(6);
        var second = await stage.StartCheckAsync(6);

        Assert.Equal("superseded", (await stage.GetAsync($"api/checks/{first["id"]}"))["state"]!.GetValue<string>());
        Assert.Equal("listening", second["state"]!.GetValue<string>());
        Assert.Equal("superseded", (await stage.GetAsync($"api/proposals/{proposal["id"]}"))["state"]!.GetValue<string>());
    }

    private static JsonNode Result(JsonNode check) => Assert.Single(check["results"]!.AsArray())!;
}
