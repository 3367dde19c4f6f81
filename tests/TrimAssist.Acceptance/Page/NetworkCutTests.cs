using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The page when the network between it and the service drops and returns, while the service goes on.</summary>
[Collection(nameof(TheBrowser))]
public sealed class NetworkCutTests(TheBrowser browser) : StagedTests(browser)
{
    private protected override async Task BeginAsync()
    {
        await Stage.StartAsync();
        await Stage.ProposalsAsync();
    }

    [Fact]
    public async Task A_cut_marks_the_picture_turns_the_controls_off_and_its_return_leaves_everything_where_it_was()
    {
        var cable = Stage.Cable();
        var page = await OpenAsync(cable, 1280, 500);
        await page.Locator("[data-choose-filter=needs]").ClickAsync();
        await page.Locator("[data-choose-filter=all]").ClickAsync();
        await page.EvaluateAsync("window.same = true");
        var control = PageStage.Row(page, 1).Locator(".act .confirm");

        cable.Pull();
        await Expect(page.Locator("#health")).ToContainTextAsync("No meters since");
        await Expect(page.Locator("#health")).ToContainTextAsync("The service is not answering");
        await Expect(control).ToBeDisabledAsync();
        await Expect(PageStage.Row(page, 1).Locator(".what")).ToContainTextAsync("→");
        await PageStage.AssertAccessibleAsync(page);
        await page.EvaluateAsync("scrollTo(0, 60)");
        await control.DispatchEventAsync("pointerdown", new { bubbles = true, isPrimary = true });
        await page.WaitForTimeoutAsync(PageStage.LongEnough);

        cable.Plug();
        await PageStage.AliveAsync(page);
        await Expect(page.Locator("#health")).ToBeHiddenAsync();
        Assert.Equal("all", await page.EvaluateAsync<string>("document.documentElement.dataset.filter"));
        Assert.Equal(60, await page.EvaluateAsync<int>("scrollY"));
        Assert.True(await page.EvaluateAsync<bool>("window.same"));
        Assert.Empty(Stage.Desk.Writes);
        // A control half under the head that stays counts as a small one.
        await page.EvaluateAsync("scrollTo(0, 0)");
        await PageStage.AssertAccessibleAsync(page);
        await PageStage.ConfirmAsync(page, control);
        await Expect(PageStage.Row(page, 1).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(1));
    }

    [Fact]
    public async Task A_confirmation_that_the_network_holds_up_is_given_up_refused_when_it_arrives_and_never_sent_again()
    {
        var cable = Stage.Cable();
        var page = await OpenAsync(cable, 1280, 800);
        var control = PageStage.Row(page, 1).Locator(".act .confirm");
        await Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
        var asked = 0;
        await page.RouteAsync("**/confirm", async route =>
        {
            asked++;
            cable.Pull();
            await route.ContinueAsync();
        });
        await PageStage.ConfirmAsync(page, control);
        await Expect(page.Locator("#refusal")).ToContainTextAsync("No answer from the service");
        await PageStage.AssertAccessibleAsync(page);
        cable.Plug();
        await PageStage.AliveAsync(page);
        await Expect(control).ToBeEnabledAsync();
        await PageStage.AssertAccessibleAsync(page);
        Assert.Equal(1, asked);
        Assert.Empty(Stage.Desk.Writes);
    }

    private async Task<IPage> OpenAsync(NetworkCable cable, int width, int height)
    {
        var page = await Stage.BlankAsync(width, height);
        await page.GotoAsync(cable.Url);
        await PageStage.AliveAsync(page);
        return page;
    }
}
