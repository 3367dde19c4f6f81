using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>Takes the documentation's pictures of the demo. Runs only where <c>TRIMASSIST_PICTURES</c> names a folder: eng/page-pictures.sh.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PagePictures
{
    private static readonly (string Name, int Width, int Height)[] Screens = [("", 1280, 800), ("-laptop", 1440, 900), ("-phone", 390, 844)];

    [Fact]
    public async Task The_demo_is_photographed()
    {
        var folder = Environment.GetEnvironmentVariable("TRIMASSIST_PICTURES");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "TRIMASSIST_PICTURES names no folder");
        var url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{TheProgram.FreePort(ProtocolType.Tcp)}/");
        await using var demo = TheProgram.TrimAssist("demo", "--urls", url.TrimEnd('/'));
        using var http = new HttpClient { BaseAddress = new Uri(url + "api/") };
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = "/usr/bin/chromium", ChromiumSandbox = false });

        await PageStage.EventuallyAsync(() => IsCheckingAsync(http), 60, () => string.Join('\n', demo.Errors));
        await TakeAsync(browser, url, "dark", Path.Combine(folder, "check"), Screens[..1]);
        await PageStage.EventuallyAsync(() => HasAsync(http, "trim"), 120, () => string.Join('\n', demo.Errors));
        await TakeAsync(browser, url, "dark", Path.Combine(folder, "page"), Screens);
        await TakeAsync(browser, url, "light", Path.Combine(folder, "light"), Screens[..1]);
        await TakeAsync(browser, url, "contrast", Path.Combine(folder, "contrast"), Screens[..1]);
        await PageStage.EventuallyAsync(() => HasAsync(http, "mute"), 240, () => string.Join('\n', demo.Errors));
        await TakeAsync(browser, url, "dark", Path.Combine(folder, "alarm"), Screens[..1]);
    }

    private static async Task TakeAsync(IBrowser browser, string url, string theme, string file, IEnumerable<(string Name, int Width, int Height)> screens)
    {
        foreach (var (name, width, height) in screens)
        {
            var page = await browser.NewPageAsync(new() { ViewportSize = new() { Width = width, Height = height } });
            await page.GotoAsync(url);
            await page.EvaluateAsync("theme => { localStorage.setItem('trimassist.theme', theme); }", theme);
            await page.ReloadAsync();
            await Assertions.Expect(page.Locator("html")).Not.ToHaveAttributeAsync("data-off", "");
            await Assertions.Expect(page.Locator(".link")).ToContainTextAsync("live");
            await page.WaitForTimeoutAsync(1500);
            await page.ScreenshotAsync(new() { Path = string.Create(CultureInfo.InvariantCulture, $"{file}{name}.png") });
            await page.CloseAsync();
        }
    }

    private static async Task<bool> IsCheckingAsync(HttpClient http) => await AnswersAsync(http) && await HasPlayedAsync(http);

    private static async Task<bool> HasPlayedAsync(HttpClient http) =>
        (await http.GetFromJsonAsync<JsonArray>("desks/demo/inputs"))!.Count(input => input!["loudestPassageDbfs"] is not null) > 3;

    private static async Task<bool> HasAsync(HttpClient http, string kind) =>
        (await http.GetFromJsonAsync<JsonArray>("proposals?state=open"))!.Any(one => one!["kind"]!.GetValue<string>() == kind);

    private static async Task<bool> AnswersAsync(HttpClient http)
    {
        try
        {
            return (await http.GetAsync("health")).IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }
}
