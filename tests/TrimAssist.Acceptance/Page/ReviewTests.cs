using System.Collections.Concurrent;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Several trims in one deliberate gesture.</summary>
[Collection(nameof(TheBrowser))]
public sealed class ReviewTests(TheBrowser browser) : StagedTests(browser)
{
    private protected override async Task BeginAsync()
    {
        await Stage.StartAsync();
        await Stage.ProposalsAsync();
    }

    [Fact]
    public async Task A_held_list_sends_each_ticked_line_by_its_own_digest_and_tells_each_outcome()
    {
        var page = await OpenListAsync();
        await PageStage.AssertAccessibleAsync(page);
        // The dangers of inputs 2 and 4 are left to their own rows.
        Assert.Equal(2, await page.Locator("[data-tick]").CountAsync());
        await Expect(page.Locator(".review .alone").First).ToContainTextAsync("2 Bench 2, 4 Bench 4");
        var sent = new ConcurrentQueue<string>();
        page.Request += (_, request) =>
        {
            if (request.Url.EndsWith("/confirm", StringComparison.Ordinal))
                sent.Enqueue(request.PostData ?? "");
        };

        await PageStage.ConfirmAsync(page, page.Locator(".confirm.all"));
        await Expect(page.Locator(".review .told .state.applied")).ToHaveCountAsync(2);
        await PageStage.AssertAccessibleAsync(page);
        Assert.Equal(2, sent.Count);
        Assert.Equal(2, sent.Distinct(StringComparer.Ordinal).Count());
        Assert.All(sent, body => Assert.Contains("\"pictureAgeMs\":", body, StringComparison.Ordinal));
        Assert.All(sent, body => Assert.Matches("\"picture\":[0-9]+[,}]", body));
        Assert.Single(Stage.Desk.WritesTo(1));
        Assert.Single(Stage.Desk.WritesTo(3));
        Assert.Empty(Stage.Desk.WritesTo(2));
        Assert.Empty(Stage.Desk.WritesTo(4));
    }

    [Fact]
    public async Task A_line_without_its_tick_is_not_sent_and_a_touch_sends_nothing()
    {
        var page = await OpenListAsync();
        await PageStage.TouchAsync(page.Locator(".confirm.all"));
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        Assert.Empty(Stage.Desk.Writes);
        await page.Locator("[data-tick]").First.UncheckAsync();
        await Expect(page.Locator("[data-ticked]")).ToHaveTextAsync("1");
        await PageStage.ConfirmAsync(page, page.Locator(".confirm.all"));
        await Expect(page.Locator(".review .told .state.applied")).ToHaveCountAsync(1);
        Assert.Empty(Stage.Desk.WritesTo(1));
        Assert.Single(Stage.Desk.WritesTo(3));
    }

    [Fact]
    public async Task Where_the_network_is_in_doubt_the_rest_is_not_sent_and_nothing_is_sent_again()
    {
        var page = await OpenListAsync();
        var asked = 0;
        await page.RouteAsync("**/confirm", async route =>
        {
            asked++;
            await Task.Delay(TimeSpan.FromSeconds(3), TimeProvider.System, TestContext.Current.CancellationToken);
            await route.AbortAsync();
        });
        await PageStage.ConfirmAsync(page, page.Locator(".confirm.all"));
        await Expect(page.Locator(".review .outcome").Nth(0)).ToContainTextAsync("No answer from the service");
        await Expect(page.Locator(".review .outcome").Nth(1)).ToHaveTextAsync("not sent");
        await PageStage.AssertAccessibleAsync(page);
        await page.WaitForTimeoutAsync(3000);
        Assert.Equal(1, asked);
        Assert.Empty(Stage.Desk.Writes);
    }

    private async Task<IPage> OpenListAsync()
    {
        var page = await Stage.OpenAsync();
        await page.Locator(".review summary").ClickAsync();
        // A list that has just come asks for a second look.
        await page.WaitForTimeoutAsync(1100);
        return page;
    }
}
