using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>The engineer's view of a large desk.</summary>
[Collection(nameof(TheBrowser))]
public sealed class ManyInputsTests(TheBrowser browser) : StagedTests(browser, inputs: 64)
{
    [Fact]
    public async Task Sixty_four_inputs_scroll_under_a_head_that_stays_and_large_rows_are_large()
    {
        var page = await Stage.OpenAsync();
        await page.EvaluateAsync("scrollTo(0, document.documentElement.scrollHeight)");
        Assert.True(await page.Locator(".banner").EvaluateAsync<bool>("banner => banner.getBoundingClientRect().top >= 0"));
        await page.GetByText("Menu", new() { Exact = true }).ClickAsync();
        await page.Locator("[data-choose-rows=large]").ClickAsync();
        Assert.True(await page.Locator(".row").First.EvaluateAsync<double>("row => row.getBoundingClientRect().height") >= 44);
        await PageStage.AssertAccessibleAsync(page);
    }
}
