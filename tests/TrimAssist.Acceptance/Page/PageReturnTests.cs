using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The page when the service goes away and comes again.</summary>
[Collection(nameof(PageTests))]
public sealed class PageReturnTests(PageStage stage) : IClassFixture<PageStage>
{
    [Fact]
    public async Task It_says_so_keeps_the_picture_and_comes_back_without_a_hand()
    {
        PageStage.NeedsBrowser();
        var page = await stage.OpenAsync();
        await page.Locator("[data-choose-filter=silent]").ClickAsync();
        await stage.StopServiceAsync();
        await Expect(page.Locator("#health")).ToContainTextAsync("The service is not answering");
        Assert.Equal(BenchDesk.Inputs, await page.Locator(".row").CountAsync());
        await PageStage.AssertAccessibleAsync(page);

        await stage.StartServiceAsync();
        await Expect(page.Locator("#health")).ToBeHiddenAsync(new() { Timeout = 60_000 });
        await Expect(page.Locator(".link")).ToContainTextAsync("live");
        Assert.Equal("silent", await page.EvaluateAsync<string>("document.documentElement.dataset.filter"));
    }
}
