using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>A page on a slow network, between what the service sends first and the connection on which its controls are heard.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PageStartTests(TheBrowser browser) : StagedTests(browser)
{
    private const string Connection = "**/_blazor/negotiate**";

    [Fact]
    public async Task It_is_off_and_loses_no_press_in_silence_until_somebody_listens()
    {
        var page = await Stage.BlankAsync();
        var open = new TaskCompletionSource();
        await page.RouteAsync(Connection, async route =>
        {
            await open.Task;
            await route.ContinueAsync();
        });
        await page.GotoAsync(Stage.Url);
        var watch = page.GetByRole(AriaRole.Button, new() { Name = "Watch the show" });
        await Expect(watch).ToBeDisabledAsync();
        await Expect(page.Locator("#health")).ToHaveTextAsync("Connecting. The controls come on by themselves.");
        await watch.EvaluateAsync("button => button.click()");
        await PageStage.AssertAccessibleAsync(page);

        open.SetResult();
        await PageStage.AliveAsync(page);
        await Expect(page.Locator("#health")).ToBeHiddenAsync();
        await watch.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "End the watch" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_connection_that_never_came_about_is_tried_again_without_a_hand()
    {
        var page = await Stage.BlankAsync();
        var refused = 0;
        await page.RouteAsync(Connection, route => refused++ == 0 ? route.AbortAsync() : route.ContinueAsync());
        await page.Clock.InstallAsync();
        await page.GotoAsync(Stage.Url);
        await Expect(page.Locator("html")).ToHaveAttributeAsync("data-off", "");
        await page.Clock.FastForwardAsync(40_000);
        await PageStage.AliveAsync(page);
        Assert.Equal(2, refused);
    }
}
