using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>Acts over HTTP, from the input list to what is remembered of a show on another night.</summary>
public sealed class ActsApiTests : IAsyncLifetime
{
    private const string Kites = """
        # act: Kites
        # start: 20:00
        input,name,source,role,player,target_dbfs,allowance_db
        1,Lead,voice,performer,Ada Quill,,
        2,Tracks,tracks,playback,,-9,
        3,Talk,speech,talkback,,,
        4,Harp,harp,performer,,,2.5
        """;

    private readonly ApiStage _stage = new();

    public ValueTask InitializeAsync() => _stage.InitializeAsync();

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task A_list_becomes_an_act_of_the_running_order_and_its_problems_are_answered()
    {
        var added = await AddAsync(Kites + "\n99,Ghost,voice,performer,,,\n");

        Assert.Equal(("Kites", "20:00:00", false), (added["act"]!["name"]!.GetValue<string>(), added["act"]!["startsAt"]!.GetValue<string>(), added["act"]!["isOn"]!.GetValue<bool>()));
        Assert.Contains(added["problems"]!.AsArray(), problem => problem!["row"]!.GetValue<int>() == 8 && problem["column"]!.GetValue<string>() == "input");
        await AddAsync("input,name\n1,Solo\n", "?name=Opener");
        Assert.Equal(["Kites", "Opener"], (await _stage.GetAsync("api/desks/bench/acts")).AsArray().Select(act => act!["name"]!.GetValue<string>()));
        await ApiStage.ProblemAsync(await PostCsvAsync("name\nKick\n"), 400, "bad-list");
        await ApiStage.ProblemAsync(await _stage.SendAsync("api/desks/bench/acts/Nobody/begin"), 404, "not-found");
        await ApiStage.ProblemAsync(await _stage.SendAsync("api/desks/bench/acts/Nobody/recall"), 404, "not-found");
    }

    [Fact]
    public async Task A_service_that_is_started_again_has_the_days_lists_in_their_order_and_their_last_words()
    {
        await AddAsync("# act: Late\n# start: 22:00\ninput,name\n1,Solo\n");
        await AddAsync(Kites);
        await AddAsync("# act: Late\n# start: 19:00\ninput,name\n2,Duo\n");

        await _stage.StopAsync();
        await _stage.StartAsync();

        var acts = (await _stage.GetAsync("api/desks/bench/acts")).AsArray();
        Assert.Equal(["Late", "Kites"], acts.Select(act => act!["name"]!.GetValue<string>()));
        Assert.Equal(2, Assert.Single(acts[0]!["inputs"]!.AsArray())!["input"]!.GetValue<int>());
        Assert.All(acts, act => Assert.False(act!["isOn"]!.GetValue<bool>()));

        await _stage.WaitAsync(TimeSpan.FromHours(25));
        await _stage.StopAsync();
        await _stage.StartAsync();
        Assert.Empty((await _stage.GetAsync("api/desks/bench/acts")).AsArray());
    }

    [Fact]
    public async Task The_act_that_is_on_names_the_sources_and_its_roles_and_targets_rule_the_check()
    {
        await AddAsync(Kites);
        Assert.True((await _stage.PostAsync("api/desks/bench/acts/kites/begin", status: 200))["isOn"]!.GetValue<bool>());

        var finished = await _stage.CheckAsync((1, -6), (2, -6), (3, -6), (4, -6));

        Assert.Equal("voice", (await _stage.GetAsync("api/desks/bench/inputs"))[0]!["source"]!.GetValue<string>());
        var proposals = finished["proposals"]!.AsArray().ToDictionary(one => one!["input"]!.GetValue<int>(), one => one!["evidence"]!);
        Assert.Equal([1, 2, 4], proposals.Keys.Order());
        Assert.Equal((4.0, 0.0, 2.5), (proposals[1]["allowanceDb"]!.GetValue<double>(), proposals[2]["allowanceDb"]!.GetValue<double>(), proposals[4]["allowanceDb"]!.GetValue<double>()));
        Assert.Equal("+4.0 dB, common practice: no show has been heard yet", proposals[1]["allowanceBasis"]!.GetValue<string>());
        Assert.Equal(-9, proposals[2]["targetPeakDbfs"]!.GetValue<double>());
        Assert.Contains("talkback", finished["results"]![2]!["withheld"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_show_teaches_the_next_check_of_the_same_player_also_after_a_restart_until_the_player_is_forgotten()
    {
        await AddAsync(Kites);
        await PlayShowAsync();

        var player = Assert.Single((await _stage.GetAsync("api/players")).AsArray())!;
        Assert.Equal(("Ada Quill", "voice", 1), (player["player"]!.GetValue<string>(), player["kind"]!.GetValue<string>(), player["shows"]!.GetValue<int>()));

        await _stage.RestartAsync();
        await _stage.ComeLiveAsync();
        await AddAsync("# act: Another band\ninput,source,player\n6,voice,ada quill\n");
        await _stage.PostAsync("api/desks/bench/acts/Another band/begin");
        var evidence = (await _stage.ProposalAsync(6, -6))["evidence"]!;
        Assert.EndsWith("from 1 show of this player", evidence["allowanceBasis"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal(player["allowanceDb"]!.GetValue<double>(), evidence["allowanceDb"]!.GetValue<double>(), 0.1);

        using var forgotten = await _stage.Http.DeleteAsync("api/players/Ada Quill", TestContext.Current.CancellationToken);
        Assert.Equal(200, (int)forgotten.StatusCode);
        Assert.Empty((await _stage.GetAsync("api/players")).AsArray());
        Assert.Contains("Ada Quill", JournalText(), StringComparison.Ordinal);
        await _stage.StopAsync();
        // The list, the line of the show, the act coming on before the restart and after it, the other list and its act, the wish to be forgotten.
        Assert.Equal(new Erasure(7, 0), PlayerErasure.Erase(_stage.DataFolder, " ada quill "));
        Assert.DoesNotContain("Ada Quill", JournalText(), StringComparison.OrdinalIgnoreCase);
        await _stage.StartAsync();
        await _stage.ComeLiveAsync();
        Assert.Empty((await _stage.GetAsync("api/players")).AsArray());
        await ApiStage.ProblemAsync(await _stage.Http.DeleteAsync("api/players/Ada Quill", TestContext.Current.CancellationToken), 404, "not-found");
    }

    [Fact]
    public async Task A_recall_proposes_the_last_shows_trims_for_review_and_writes_nothing()
    {
        await AddAsync(Kites);
        await PlayShowAsync();
        _stage.Desk.Turn(1, "gain", 36);
        _stage.Desk.Turn(4, "gain", 33);
        await _stage.PassAsync(4);

        var recalled = (await _stage.PostAsync("api/desks/bench/acts/Kites/recall", status: 200))["inputs"]!.AsArray();

        Assert.Equal([1, 4], recalled.Where(one => one!["proposal"] is not null).Select(one => one!["input"]!.GetValue<int>()));
        var proposal = recalled[0]!["proposal"]!;
        Assert.Equal((36.0, 30.0, -6.0), (proposal["from"]!.GetValue<double>(), proposal["to"]!.GetValue<double>(), recalled[0]!["differenceDb"]!.GetValue<double>()));
        Assert.Contains("Kites", proposal["reason"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Empty(_stage.Desk.Writes);
        await _stage.ConfirmAsync(proposal);
        await _stage.BecomesAsync(proposal, "applied");
        Assert.Equal(["/bench/1/gain 30"], _stage.Desk.Writes);
    }

    [Fact]
    public async Task After_a_restart_the_act_that_was_on_is_on_and_one_that_was_ended_is_not_but_the_next_session_begins_afresh()
    {
        await AddAsync(Kites);
        await AddAsync("# act: Late\n# start: 22:00\ninput,name\n1,Solo\n");
        var list = Path.Combine(_stage.DataFolder, "kites.csv");
        await File.WriteAllTextAsync(list, Kites, TestContext.Current.CancellationToken);
        _stage.InputLists = [list];
        await _stage.PostAsync("api/desks/bench/acts/Late/begin", status: 200);

        await _stage.RestartAsync();
        Assert.Equal("Late", await OnAsync());

        Assert.Equal(HttpStatusCode.NoContent, (await _stage.SendAsync("api/desks/bench/acts/end")).StatusCode);
        Assert.Null(await OnAsync());
        await _stage.RestartAsync();
        Assert.Null(await OnAsync());

        await _stage.WaitAsync(TimeSpan.FromHours(7));
        await _stage.RestartAsync();
        Assert.Equal("Kites", await OnAsync());

        await _stage.PostAsync("api/desks/bench/acts/Late/begin", status: 200);
        await _stage.WaitAsync(TimeSpan.FromHours(7));
        await _stage.RestartAsync();
        Assert.Equal("Kites", await OnAsync());
        // What nobody ended was ended by what came after it; a start does not wait until that is on the disk.
        string[] ended = [];
        await ApiStage.UntilAsync(
            () => Task.FromResult((ended = [.. new SqliteJournalReader(_stage.DataFolder).ReadAfter(0, "act-ended").Select(entry => JsonNode.Parse(entry.Fact.Body)!["act"]!.GetValue<string>())]).Length >= 3));
        Assert.Equal(["Late", "Kites", "Late"], ended);
    }

    [Fact]
    public async Task A_list_that_cannot_be_written_down_is_refused_and_taken_when_the_disk_is_back()
    {
        var database = Path.Combine(_stage.DataFolder, "journal.db");
        File.Move(database, database + ".away");

        await ApiStage.ProblemAsync(await PostCsvAsync(Kites), 503, "journal-unavailable");
        Assert.Empty((await _stage.GetAsync("api/desks/bench/acts")).AsArray());

        File.Move(database + ".away", database);
        await AddAsync(Kites);
        await _stage.RestartAsync();
        Assert.Equal("Kites", Assert.Single((await _stage.GetAsync("api/desks/bench/acts")).AsArray())!["name"]!.GetValue<string>());
    }

    private async Task<string?> OnAsync() =>
        (await _stage.GetAsync("api/desks/bench/acts")).AsArray().SingleOrDefault(act => act!["isOn"]!.GetValue<bool>())?["name"]!.GetValue<string>();

    private string JournalText() => string.Concat(new SqliteJournalReader(_stage.DataFolder).ReadAfter(0).Select(entry => entry.Fact.Body));

    private async Task PlayShowAsync()
    {
        await _stage.PostAsync("api/desks/bench/acts/Kites/begin");
        await _stage.CheckAsync((1, -16), (4, -16));
        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
        _stage.Desk.Play(1, -4);
        _stage.Desk.Play(4, -14);
        await _stage.PassAsync(200);
        _stage.Desk.Rest();
        await _stage.PostAsync("api/desks/bench/watch", """{"on":false}""");
    }

    [Fact]
    public async Task A_show_that_is_still_watched_when_the_service_stops_is_remembered()
    {
        await AddAsync(Kites);
        await _stage.PostAsync("api/desks/bench/acts/Kites/begin", status: 200);
        await _stage.CheckAsync((1, -12));
        await _stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
        _stage.Desk.Play(1, -8);
        await _stage.PassAsync(60);
        _stage.Desk.Rest();

        await _stage.StopAsync();
        await _stage.StartAsync();

        Assert.Equal("Ada Quill", Assert.Single((await _stage.GetAsync("api/players")).AsArray())!["player"]!.GetValue<string>());
    }

    private async Task<JsonNode> AddAsync(string list, string query = "")
    {
        using var answer = await PostCsvAsync(list, query);
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True((int)answer.StatusCode == 201, text);
        return JsonNode.Parse(text)!;
    }

    private Task<HttpResponseMessage> PostCsvAsync(string list, string query = "") =>
        _stage.Http.PostAsync("api/desks/bench/acts" + query, new StringContent(list, Encoding.UTF8, "text/csv"));
}
