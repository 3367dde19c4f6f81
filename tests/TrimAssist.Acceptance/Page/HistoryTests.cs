using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The history view.</summary>
[Collection(nameof(TheBrowser))]
public sealed class HistoryTests(TheBrowser browser) : StagedTests(browser)
{
    [Fact]
    public async Task It_draws_what_was_played_and_what_was_set_and_zooms_by_its_address()
    {
        await Stage.ProposalsAsync();
        var engineer = await Stage.OpenAsync();
        await PageStage.ConfirmAsync(engineer, PageStage.Row(engineer, 1).Locator(".act .confirm"));
        await Expect(PageStage.Row(engineer, 1).Locator(".state")).ToHaveTextAsync("✓ verified");

        var page = await Stage.OpenAsync("history?input=1&span=120");
        Assert.NotEqual("", await page.Locator("path.peak").GetAttributeAsync("d"));
        await Expect(page.Locator(".moves")).ToContainTextAsync("+30.0 →");
        await PageStage.AssertAccessibleAsync(page);
        await page.GetByText("Menu", new() { Exact = true }).ClickAsync();
        await page.Locator("[data-choose-theme=light]").ClickAsync();
        await page.Keyboard.PressAsync("Escape");
        await page.GetByRole(AriaRole.Link, new() { Name = "10 min" }).ClickAsync();
        await Expect(page).ToHaveURLAsync(Stage.Url + "desks/bench/history?input=1&span=600&back=0");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "10 min" })).ToHaveAttributeAsync("aria-current", "true");
        await Expect(page.Locator("html")).ToHaveAttributeAsync("data-theme", "light");
        await PageStage.AliveAsync(page);
    }

    [Fact]
    public async Task Alarms_are_listed_with_their_rate_and_can_be_seen_and_put_aside()
    {
        await Stage.PostAsync("desks/bench/watch", """{"on":true}""");
        var page = await Stage.OpenAsync("history", width: 390, height: 844);
        var alarm = page.Locator(".record li.active").First;
        await Stage.PullPlugAsync(3, alarm);
        await Expect(alarm).ToContainTextAsync("Pop · 3 Bench 3");
        await Expect(page.Locator(".rates")).ToContainTextAsync("in the last 10 min");
        await PageStage.AssertAccessibleAsync(page);
        Assert.Equal(390, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await alarm.GetByRole(AriaRole.Button, new() { Name = "Shelve" }).ClickAsync();
        await Expect(page.Locator(".record li .when").First).ToHaveTextAsync("put aside");
    }
}
