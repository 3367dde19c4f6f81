using TrimAssist.Core.Assist;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>A rehearsal room through the whole service: the check begins and finishes by itself, the rest is the band's.</summary>
public sealed class RehearsalRoomTests : IAsyncDisposable
{
    private const int FramesPerS = 20;
    private readonly ApiStage _stage = new() { Room = new RehearsalOptions() };

    public ValueTask DisposeAsync() => _stage.DisposeAsync();

    [Fact]
    public async Task A_band_that_begins_to_play_is_checked_without_a_word_and_nothing_is_confirmed_by_itself()
    {
        await _stage.InitializeAsync();
        await _stage.PassAsync(62 * FramesPerS);
        Assert.Null(await _stage.LatestCheckAsync());

        _stage.Desk.Play(1, -3);
        _stage.Desk.Play(2, -38);
        await _stage.PassAsync(5 * FramesPerS);
        var id = await _stage.LatestCheckAsync();
        var begun = await _stage.GetAsync($"api/checks/{id}");
        Assert.Equal("listening", begun["state"]!.GetValue<string>());
        Assert.Equal(ApiStage.Inputs, begun["inputs"]!.AsArray().Count);
        Assert.Contains("by itself", begun["note"]!.GetValue<string>(), StringComparison.Ordinal);

        await _stage.PassAsync(46 * FramesPerS);
        var finished = await _stage.GetAsync($"api/checks/{id}");
        Assert.Equal("finished", finished["state"]!.GetValue<string>());
        Assert.Equal([1, 2], finished["proposals"]!.AsArray().Select(proposal => proposal!["input"]!.GetValue<int>()).Order());

        // They play on: the check that ended stays the last, and the desk hears nothing.
        await _stage.PassAsync(10 * FramesPerS);
        Assert.Equal(id, await _stage.LatestCheckAsync());
        foreach (var proposal in finished["proposals"]!.AsArray())
            Assert.Equal("open", (await _stage.GetAsync($"api/proposals/{proposal!["id"]}"))["state"]!.GetValue<string>());
        Assert.Empty(_stage.Desk.Writes);

        var down = finished["proposals"]!.AsArray().Single(proposal => proposal!["input"]!.GetValue<int>() == 1)!;
        await _stage.ConfirmAsync(down);
        await _stage.BecomesAsync(down, "applied");
        Assert.Single(_stage.Desk.Writes);
    }
}
