using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The engineer's view of a desk that never answers.</summary>
[Collection(nameof(TheBrowser))]
public sealed class SilentDeskTests(TheBrowser browser) : StagedTests(browser)
{
    private protected override Task BeginAsync()
    {
        (Stage.Desk.SendsMeters, Stage.Desk.Answers) = (false, false);
        return Stage.StartAsync(untilLive: false);
    }

    [Fact]
    public async Task It_says_that_the_desk_is_not_heard_and_what_to_look_at_and_comes_on_with_the_desk()
    {
        var page = await Stage.BlankAsync();
        await page.GotoAsync(Stage.Url);
        await Expect(page.Locator(".banner")).ToContainTextAsync("The desk is not heard");
        await Expect(page.Locator("#health")).ToHaveTextAsync("No meters are coming. The controls are off.");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Start check" })).ToBeDisabledAsync();
        await PageStage.AssertAccessibleAsync(page);

        (Stage.Desk.SendsMeters, Stage.Desk.Answers) = (true, true);
        await PageStage.AliveAsync(page);
        await Expect(page.Locator(".banner")).ToContainTextAsync("Nothing urgent");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Start check" })).ToBeEnabledAsync();
    }
}
