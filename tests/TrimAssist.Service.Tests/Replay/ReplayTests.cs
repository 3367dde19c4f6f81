using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.RegularExpressions;
using TrimAssist.Core.Desks;
using TrimAssist.Service.Cli;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Replay;
using TrimAssist.Service.Tests.Foreign;
using Xunit;

namespace TrimAssist.Service.Tests.Replay;

/// <summary>A link recorded by the running service, and played through the whole service again.</summary>
public sealed partial class ReplayTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-replay-test-");

    [Theory]
    [InlineData("sill")]
    [InlineData("loch")]
    public async Task A_replay_hears_what_was_heard_and_confirms_nothing(string name)
    {
        var (file, heard) = await RecordAsync(name, 16);
        using var recording = LinkRecording.Open(new StreamReader(file), "link.rec", out var fault)!;
        Assert.Null(fault);
        var clock = new SteppedTime(recording.Began);
        var socket = new ReplaySocket();
        var data = _folder.CreateSubdirectory("data");
        await using var service = await RunningService.StartAsync(
            new ServeOptions { Profiles = [], DataFolder = data.FullName, Urls = "http://127.0.0.1:0", Time = clock, Replayed = _ => socket },
            recording.Desks,
            CancellationToken.None);
        using var http = new HttpClient { BaseAddress = new Uri(service.Urls[0]) };
        using var started = await http.PostAsJsonAsync($"api/desks/{name}/checks", new CheckRequest([1]), ApiJson.Options);
        var check = (await started.Content.ReadFromJsonAsync<CheckReply>(ApiJson.Options))!;

        var played = new Dictionary<string, ReplaySocket>(StringComparer.Ordinal) { [name] = socket };
        await new ReplayConductor(recording, played, clock, TimeProvider.System, 10_000).PlayAsync(TestContext.Current.CancellationToken);
        var desk = (await http.GetFromJsonAsync<DeskReply>($"api/desks/{name}", ApiJson.Options))!;
        Assert.Equal((LinkState.Live, heard.FramesHeard, heard.FramesLost), (desk.State, desk.FramesHeard, desk.FramesLost));
        Assert.InRange(clock.GetUtcNow() - recording.Began, TimeSpan.FromSeconds(15), TimeSpan.FromSeconds(17));

        using var finished = await http.PostAsJsonAsync<object?>($"api/checks/{check.Id}/finish", null, ApiJson.Options);
        var proposal = Assert.Single((await finished.Content.ReadFromJsonAsync<CheckReply>(ApiJson.Options))!.Proposals);
        using var refused = await http.PostAsJsonAsync($"api/proposals/{proposal.Id}/confirm", new ConfirmRequest(proposal.Digest, proposal.Needs), ApiJson.Options);
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.Contains("desk-not-live", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_command_plays_to_the_end_and_sums_up()
    {
        var (file, heard) = await RecordAsync("pike", 4);
        var output = new StringWriter();
        Assert.Equal(0, await ReplayCommand.RunAsync(file, 10_000, stay: false, "http://127.0.0.1:0", output, TestContext.Current.CancellationToken));
        Assert.Equal(heard.FramesHeard.ToString(CultureInfo.InvariantCulture), FramesHeard().Match(output.ToString()).Groups["frames"].Value);
    }

    [Fact]
    public async Task What_cannot_be_played_is_bad_usage()
    {
        await Assert.ThrowsAsync<UsageException>(() => ReplayCommand.RunAsync(Path.Combine(_folder.FullName, "none"), 1, false, "http://127.0.0.1:0", TextWriter.Null, default));
        await Assert.ThrowsAsync<UsageException>(() => ReplayCommand.RunAsync("x", 0, false, "http://127.0.0.1:0", TextWriter.Null, default));
        var other = Path.Combine(_folder.FullName, "other");
        await File.WriteAllTextAsync(other, "no recording", TestContext.Current.CancellationToken);
        await Assert.ThrowsAsync<UsageException>(() => ReplayCommand.RunAsync(other, 1, false, "http://127.0.0.1:0", TextWriter.Null, default));
    }

    public void Dispose() => _folder.Delete(recursive: true);

    private async Task<(string File, DeskReply Heard)> RecordAsync(string name, double seconds)
    {
        var file = Path.Combine(_folder.FullName, $"{name}.rec");
        await using var stage = await ConformanceStage.StartAsync(Dialects.All.Single(dialect => dialect.Id == name), file);
        await stage.PlayAsync(seconds);
        return (file, await stage.DeskAsync());
    }

    [GeneratedRegex(@": (?<frames>\d+) frames heard, 0 lost", RegexOptions.None, 1000)]
    private static partial Regex FramesHeard();
}
