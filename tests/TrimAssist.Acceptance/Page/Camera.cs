using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Takes the documentation's pictures, into the folder that <c>TRIMASSIST_PICTURES</c> names; where it names none, whoever wants pictures is skipped.</summary>
internal sealed class Camera(TheBrowser browser)
{
    public static IReadOnlyList<string> Themes { get; } = ["dark", "light", "contrast"];

    public static Screen Tablet { get; } = new("tablet", 1280, 800);

    public static Screen Small { get; } = new("small", 1024, 768);

    public static Screen Laptop { get; } = new("laptop", 1440, 900);

    public static Screen Phone { get; } = new("phone", 390, 844);

    private static string Folder
    {
        get
        {
            var folder = Environment.GetEnvironmentVariable("TRIMASSIST_PICTURES");
            Assert.SkipWhen(string.IsNullOrEmpty(folder), "TRIMASSIST_PICTURES names no folder");
            return folder;
        }
    }

    /// <summary>Skips the test that wants no pictures.</summary>
    public static void Needed() => _ = Folder;

    /// <summary>Opens a page and waits until it lives.</summary>
    public async Task<IPage> OpenAsync(string address, Screen screen, string theme = "dark")
    {
        var page = await BlankAsync(address, screen, theme);
        await PageStage.AliveAsync(page);
        return page;
    }

    /// <summary>Opens a page that may have nothing to live by.</summary>
    public async Task<IPage> BlankAsync(string address, Screen screen, string theme = "dark")
    {
        var context = await browser.ContextAsync(screen.Width, screen.Height, "en-GB");
        await context.AddInitScriptAsync($"localStorage.setItem('trimassist.theme', '{theme}');");
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        return page;
    }

    /// <summary>Changes the look of an open page, as its menu would.</summary>
    public static async Task TurnAsync(IPage page, string theme)
    {
        await page.Locator($"[data-choose-theme={theme}]").EvaluateAsync("choice => choice.click()");
        await Expect(page.Locator("html")).ToHaveAttributeAsync("data-theme", theme);
    }

    /// <summary>Takes one picture, once the page is drawn and no control asks for a second look.</summary>
    public static async Task TakeAsync(IPage page, string name)
    {
        await Expect(page.Locator(".confirm[data-fresh]")).ToHaveCountAsync(0);
        await page.EvaluateAsync("document.fonts.ready.then(() => new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn))))");
        await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, name + ".png") });
    }

    /// <summary>Opens a page, does something there, and takes it.</summary>
    public async Task TakeAsync(string address, string name, Screen screen, string theme = "dark", Func<IPage, Task>? act = null)
    {
        var page = await OpenAsync(address, screen, theme);
        await (act?.Invoke(page) ?? Task.CompletedTask);
        await TakeAsync(page, name);
        await page.Context.CloseAsync();
    }

    internal sealed record Screen(string Name, int Width, int Height);
}
