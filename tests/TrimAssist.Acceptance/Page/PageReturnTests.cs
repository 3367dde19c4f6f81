using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The page when the service goes away and comes again.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PageReturnTests(TheBrowser browser) : StagedTests(browser, inputs: 64)
{
    private protected override Task BeginAsync() => Stage.StartProgramAsync();

    [Fact]
    public async Task It_says_so_keeps_the_picture_and_comes_back_without_a_hand_with_filter_and_scroll_as_they_were()
    {
        var page = await Stage.OpenAsync();
        await page.Locator("[data-choose-filter=silent]").ClickAsync();
        await page.EvaluateAsync("scrollTo(0, 300)");
        await Stage.PullPowerAsync();
        await Expect(page.Locator("#health")).ToContainTextAsync("The service is not answering");
        Assert.Equal(64, await page.Locator(".row").CountAsync());
        await page.GetByRole(AriaRole.Button, new() { Name = "Watch the show" }).EvaluateAsync("button => button.click()");
        await PageStage.AssertAccessibleAsync(page);

        await Stage.StartProgramAsync();
        await Expect(page.Locator("#health")).ToBeHiddenAsync(new() { Timeout = 60_000 });
        await Expect(page.Locator(".link")).ToContainTextAsync("live");
        await PageStage.AliveAsync(page);
        Assert.Equal("silent", await page.EvaluateAsync<string>("document.documentElement.dataset.filter"));
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Watch the show" })).ToBeVisibleAsync();
        Assert.Equal(300, await page.EvaluateAsync<int>("scrollY"));
        // A control half under the head that stays counts as a small one.
        await page.EvaluateAsync("scrollTo(0, 0)");
        await PageStage.AssertAccessibleAsync(page);
    }

    [Fact]
    public async Task Every_other_view_says_so_too_and_comes_back_at_the_address_where_it_was()
    {
        var phone = await Stage.OpenAsync("stage?input=5", width: 390, height: 844);
        var history = await Stage.OpenAsync("desks/bench/history?input=3&span=120");
        var changeover = await Stage.OpenAsync("changeover");
        IPage[] pages = [phone, history, changeover];
        await Stage.PullPowerAsync();
        foreach (var page in pages)
        {
            await Expect(page.Locator("#health")).ToContainTextAsync("The service is not answering");
            await PageStage.AssertAccessibleAsync(page);
        }

        await Stage.StartProgramAsync();
        foreach (var page in pages)
            await PageStage.AliveAsync(page);
        Assert.EndsWith("stage?input=5", phone.Url, StringComparison.Ordinal);
        await Expect(phone.Locator(".big")).ToHaveTextAsync("Ask first");
        await Expect(history.GetByRole(AriaRole.Heading, new() { Name = "3 Bench 3" })).ToBeVisibleAsync();
        await Expect(history.GetByRole(AriaRole.Link, new() { Name = "2 min" })).ToHaveAttributeAsync("aria-current", "true");
        foreach (var page in pages)
            await PageStage.AssertAccessibleAsync(page);
    }
}
