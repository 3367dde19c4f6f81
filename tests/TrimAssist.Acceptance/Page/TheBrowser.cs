using Microsoft.Playwright;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>One browser for all the page's tests; every page gets a context of its own, so that they share no state.</summary>
public sealed class TheBrowser : IAsyncLifetime
{
    private const string Chromium = "/usr/bin/chromium";

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    private static bool IsInstalled => File.Exists(Chromium) || Environment.GetEnvironmentVariable("CI") is "true";

    /// <summary>Skips the test where there is no browser; a build server must have one.</summary>
    internal static void Needed() => Assert.SkipUnless(IsInstalled, "chromium is not installed");

    internal Task<IBrowserContext> ContextAsync(int width, int height, string locale) => _browser!.NewContextAsync(
        new() { ViewportSize = new() { Width = width, Height = height }, Locale = locale, HasTouch = width < 500 });

    public async ValueTask InitializeAsync()
    {
        if (!IsInstalled)
            return;
        Assertions.SetDefaultExpectTimeout(20_000);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Chromium,
            ChromiumSandbox = false,
            Args = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }
}

/// <summary>The page's tests: one after another, in one browser.</summary>
[CollectionDefinition(nameof(TheBrowser))]
public sealed class BrowserTests : ICollectionFixture<TheBrowser>;
