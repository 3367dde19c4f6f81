using Microsoft.Playwright;
using TrimAssist.Core.Assist;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>A band alone in its rehearsal room with a phone.</summary>
[Collection(nameof(TheBrowser))]
public sealed class RoomTests(TheBrowser browser) : StagedTests(browser, room: new RehearsalOptions())
{
    [Fact]
    public async Task The_band_climbs_in_small_steps_behind_the_mute_and_opens_again_each_held_on_its_own_phone()
    {
        await Stage.ProposalsAsync();
        var phone = await Stage.OpenAsync("desks/bench/room?input=2&input=3", width: 390, height: 844);
        await Expect(phone.Locator("[data-card]")).ToHaveCountAsync(2);
        await PageStage.AssertAccessibleAsync(phone);

        // Input 3 is too hot: one step down.
        await HoldUntilTakenAsync(phone, 3);
        await Expect(Card(phone, 3).Locator(".state")).ToContainTextAsync("verified");
        Assert.Single(Stage.Desk.WritesTo(3));

        // Input 2 is too quiet and open: muted first, pressed twice.
        await UntilAsync(() => PageStage.PressTwiceAsync(phone, Card(phone, 2).Locator(".confirm.mute")), Card(phone, 2).Locator(".confirm.mute"));
        await Expect(Card(phone, 2).Locator(".flag.muted")).ToBeVisibleAsync();
        await PageStage.AssertAccessibleAsync(phone);
        for (var step = 1; step <= 5; step++)
            await HoldUntilTakenAsync(phone, 2);
        await Expect(Card(phone, 2).Locator(".flag.muted")).ToHaveCountAsync(0);
        await PageStage.AssertAccessibleAsync(phone);

        var writes = Stage.Desk.WritesTo(2);
        Assert.Equal(("/bench/2/closed 1", "/bench/2/closed 0"), (writes[0], writes[^1]));
        Assert.Equal(["/bench/2/gain 33", "/bench/2/gain 36", "/bench/2/gain 39", "/bench/2/gain 42"], writes.Skip(1).SkipLast(1));
        Assert.Empty(Stage.Complaints);
    }

    private static ILocator Card(IPage page, int input) => page.Locator($"[data-card='{input}']");

    // A control stands for one digest: the next step's is another.
    private static async Task HoldUntilTakenAsync(IPage phone, int input)
    {
        var digest = await Card(phone, input).Locator(".confirm").GetAttributeAsync("data-digest");
        var control = phone.Locator($"[data-digest='{digest}']");
        await UntilAsync(() => PageStage.HoldAsync(phone, control), control);
    }

    // What a busy machine refuses, since its picture has grown old meanwhile, a person does again. It is taken once all the same.
    private static async Task UntilAsync(Func<Task> gesture, ILocator control)
    {
        for (var attempt = 1; ; attempt++)
        {
            await gesture();
            try
            {
                await Expect(control).ToHaveCountAsync(0, new() { Timeout = 6000 });
                return;
            }
            catch (PlaywrightException) when (attempt < 6)
            {
                // Once more.
            }
        }
    }
}
