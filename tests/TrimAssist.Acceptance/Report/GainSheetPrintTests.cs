using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Report;
using Xunit;

namespace TrimAssist.Acceptance.Report;

/// <summary>The gain sheet as a real browser prints it.</summary>
public sealed partial class GainSheetPrintTests
{
    private const string Chromium = "/usr/bin/chromium";
    private static readonly DateTimeOffset Night = new(2026, 7, 25, 21, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task Twenty_four_inputs_with_forty_changes_fit_on_one_page_of_A4()
    {
        Assert.SkipUnless(File.Exists(Chromium) || Environment.GetEnvironmentVariable("CI") is "true", "chromium is not installed");
        var html = await GainSheetFormats.ToHtmlAsync(Full());
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Chromium, ChromiumSandbox = false, Args = ["--disable-gpu"] });
        var page = await browser.NewPageAsync();
        await page.SetContentAsync(html);

        var pdf = Encoding.Latin1.GetString(await page.PdfAsync(new() { PreferCSSPageSize = true }));

        Assert.Single(PageObject().Matches(pdf));
        // ISO 216 in the points of PDF, 1/72 inch: 210 mm by 297 mm.
        var sides = PageSize().Match(pdf).Groups["side"].Captures.Select(side => double.Parse(side.Value, CultureInfo.InvariantCulture) * 25.4 / 72).Order().ToArray();
        Assert.Equal(210, sides[0], 1.0);
        Assert.Equal(297, sides[1], 1.0);
        Assert.Equal(24, await page.Locator("tbody svg").CountAsync());
        Assert.False(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > 1280"));
    }

    [GeneratedRegex(@"/Type\s*/Page\b(?!s)", RegexOptions.None, matchTimeoutMilliseconds: 5000)]
    private static partial Regex PageObject();

    [GeneratedRegex(@"/MediaBox\s*\[\s*0\s+0\s+(?<side>[\d.]+)\s+(?<side>[\d.]+)\s*\]", RegexOptions.None, matchTimeoutMilliseconds: 5000)]
    private static partial Regex PageSize();

    private static GainSheet Full() => new("The Long-Named Lantern Orchestra of Saltmarsh", "stage-2", Night, true, 14.2,
    [
        .. Enumerable.Range(1, 24).Select(input => new SheetInput(
            input, $"Second violin {input}", "acoustic guitar", SourceRole.Performer, $"Wilhelmina Featherstone {input}", 24.5, input % 5 == 0, -12, -18.2,
            input == 7 ? 0 : -11.9, input == 7, -25.1, -80.1, 5.1, "+5.1 dB, from 12 shows of other players (acoustic guitar)", ["pop", "hot ×2", "dropout"], null)),
    ],
    [
        .. Enumerable.Range(0, 40).Select(change => new SheetChange(
            Night.AddSeconds(change), (change % 24) + 1, ProposalKind.Trim, SettingValue.Gain(30), SettingValue.Gain(24.5), "engineer", ProposalState.Applied)),
    ],
    new(131, 14, 0.1234, 0.31, 0.52, 0.17, 12), 2);
}
