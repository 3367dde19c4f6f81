using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The whole way from a check to a verified trim, with nothing but a keyboard, and with nothing but a thumb.</summary>
[Collection(nameof(TheBrowser))]
public sealed class JourneyTests(TheBrowser browser) : StagedTests(browser)
{
    [Fact]
    public async Task By_keyboard_alone_a_check_is_begun_and_finished_and_its_trim_confirmed_and_taken_back()
    {
        var page = await Stage.OpenAsync();
        await PressAsync(page, "summary.tool >> text=Inputs", "Enter");
        await PressAsync(page, "button >> text=None", "Enter");
        await Expect(page.GetByText("Inputs 0")).ToBeVisibleAsync();
        await PressAsync(page, ".inputs input >> nth=0", "Space");
        await Expect(page.GetByText("Inputs 1")).ToBeVisibleAsync();
        await PageStage.AssertAccessibleAsync(page);
        await page.Keyboard.PressAsync("Escape");
        await page.Keyboard.PressAsync("Shift+Tab");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".check")).ToContainTextAsync("Check: 0 of 1");
        await HearAsync(page);
        await PressAsync(page, "button >> text=Finish check", "Enter");
        await PageStage.TabToAsync(page, ".row .act .confirm");
        await Expect(page.Locator(".row .act .confirm")).Not.ToHaveAttributeAsync("data-fresh", "");
        await PageStage.AssertAccessibleAsync(page);
        Assert.Empty(Stage.Desk.Writes);

        await PageStage.HoldKeyAsync(page, PageStage.Row(page, 1).Locator(".act .confirm"), " ");
        await Expect(PageStage.Row(page, 1).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(1));
        await PageStage.AssertAccessibleAsync(page);
        await PressAsync(page, "[data-undo]", "Enter");
        await Expect(PageStage.Row(page, 1).Locator(".what")).ToContainTextAsync("→ +30.0 dB");
        Assert.Single(Stage.Desk.WritesTo(1));
    }

    [Fact]
    public async Task On_a_phone_a_thumb_begins_a_check_and_holds_its_trim_and_a_thumb_that_scrolls_confirms_nothing()
    {
        var page = await Stage.OpenAsync(width: 390, height: 844);
        await page.GetByText("Inputs 6").TapAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "None" }).TapAsync();
        await Expect(page.GetByText("Inputs 0")).ToBeVisibleAsync();
        await page.GetByLabel("1 Bench 1", new() { Exact = true }).TapAsync();
        await Expect(page.GetByText("Inputs 1")).ToBeVisibleAsync();
        await PageStage.AssertAccessibleAsync(page);
        await page.GetByText("Inputs 1").TapAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Start check" }).TapAsync();
        await HearAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Finish check" }).TapAsync();
        var control = PageStage.Row(page, 1).Locator(".act .confirm");
        await Expect(control).ToBeInViewportAsync();
        await Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
        await PageStage.AssertAccessibleAsync(page);
        Assert.True((await control.BoundingBoxAsync())!.Height >= 44);

        await ThumbAsync(page, control, glide: -120);
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        Assert.Empty(Stage.Desk.Writes);

        await HoldUntilVerifiedAsync(page, control);
        Assert.Single(Stage.Desk.WritesTo(1));
        await PageStage.AssertAccessibleAsync(page);
    }

    [Fact]
    public async Task On_a_phone_a_pulled_plug_is_muted_by_two_taps_of_a_thumb()
    {
        var page = await Stage.OpenAsync(width: 390, height: 844);
        await Stage.PostAsync("desks/bench/watch", """{"on":true}""");
        var mute = page.Locator(".banner .confirm.mute");
        await Stage.PullPlugAsync(9, mute);
        await Expect(mute).ToBeInViewportAsync();
        await PageStage.AssertAccessibleAsync(page);
        await Expect(mute).Not.ToHaveAttributeAsync("data-fresh", "");
        await mute.TapAsync();
        await Expect(mute).ToContainTextAsync("Again");
        await page.WaitForTimeoutAsync(400);
        await mute.TapAsync();
        await Expect(PageStage.Row(page, 9).Locator(".flag.muted")).ToBeVisibleAsync();
        Assert.Equal(["/bench/9/closed 1"], Stage.Desk.WritesTo(9));
    }

    private static async Task PressAsync(IPage page, string selector, string key)
    {
        await PageStage.TabToAsync(page, selector);
        await page.Keyboard.PressAsync(key);
    }

    // A touch as the browser itself makes it, with the scrolling that it may become.
    private static async Task ThumbAsync(IPage page, ILocator control, int glide)
    {
        var box = (await control.BoundingBoxAsync())!;
        var (x, y) = (box.X + (box.Width / 2), box.Y + (box.Height / 2));
        var touch = await page.Context.NewCDPSessionAsync(page);
        await SendAsync("touchStart", [new { x, y }]);
        for (var step = 1; glide != 0 && step <= 6; step++)
            await SendAsync("touchMove", [new { x, y = y + (glide * step / 6f) }]);
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        await SendAsync("touchEnd", []);
        await touch.DetachAsync();

        Task SendAsync(string type, object[] touchPoints) =>
            touch.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object> { ["type"] = type, ["touchPoints"] = touchPoints });
    }

    private static async Task HoldUntilVerifiedAsync(IPage page, ILocator control)
    {
        var verified = PageStage.Row(page, 1).Locator(".state").Filter(new() { HasText = "✓ verified" });
        do
        {
            await Expect(control).ToBeEnabledAsync();
            await Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
            await ThumbAsync(page, control, glide: 0);
        }
        while (!await ComesAsync(verified));
    }

    // Where a busy machine had the page let go, the hold is tried again, as a person would.
    private static async Task<bool> ComesAsync(ILocator wanted)
    {
        try
        {
            await wanted.WaitForAsync(new() { Timeout = 5_000 });
            return true;
        }
        catch (TimeoutException)
        {
            return false;
        }
    }

    private async Task HearAsync(IPage page)
    {
        Stage.Desk.Play(1, -6);
        Stage.SetPace(5);
        await Expect(page.Locator(".check")).ToContainTextAsync("Check: all", new() { Timeout = 60_000 });
        Stage.SetPace(1);
        Stage.Desk.Rest(1);
    }
}
