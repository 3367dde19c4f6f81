using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The changeover view.</summary>
[Collection(nameof(TheBrowser))]
public sealed class ChangeoverTests(TheBrowser browser) : StagedTests(browser)
{
    [Fact]
    public async Task It_tells_what_differs_from_the_act_before_who_is_checked_and_what_is_left()
    {
        var page = await Stage.OpenAsync("changeover");
        await Expect(page.Locator(".none")).ToBeVisibleAsync();
        await Stage.PostListAsync("Harbour Kites", "input,name,source,player\n1,Kick,kick drum,Ada Moor\n2,Bass,bass guitar,Ben Reed\n7,Flute,flute,Cy Lund\n");
        await Stage.PostListAsync("Tin Orchard", "input,name,source,player\n1,Kick,kick drum,Ada Moor\n2,Cello,cello,Dee Vale\n3,Voice,vocal,Eve Hart\n");
        await page.GotoAsync(Stage.Url + "desks/bench/changeover?act=Tin%20Orchard");
        await Expect(Line(page, 1)).ToContainTextAsync("Kick");
        await Expect(Line(page, 2)).ToContainTextAsync("was bass guitar, Ben Reed");
        await Expect(Line(page, 3)).ToContainTextAsync("new here");
        await Expect(page.Locator(".freed")).ToContainTextAsync("7 Flute");
        await Expect(page.Locator(".bill p.left")).ToContainTextAsync("0 of 3 checked");
        await PageStage.AssertAccessibleAsync(page);

        await page.GetByRole(AriaRole.Button, new() { Name = "This act comes on" }).ClickAsync();
        await Expect(page.Locator(".which [aria-current]")).ToContainTextAsync("on");
        await Stage.ProposalsAsync();
        await Expect(page.Locator(".bill p.left")).ToHaveTextAsync("All 3 inputs checked.");
        await Expect(Line(page, 3)).ToContainTextAsync("✓ heard");
        await page.GetByRole(AriaRole.Button, new() { Name = "Propose the trims of its last show" }).ClickAsync();
        await Expect(page.Locator(".recall [role=status]")).ToContainTextAsync("Nothing is proposed: no trim would move.");
        await Expect(page.Locator(".recall li").Nth(0)).ToContainTextAsync("No show of this input is remembered: check it.");
        await PageStage.AssertAccessibleAsync(page);

        await page.GetByRole(AriaRole.Button, new() { Name = "This act is over" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "This act comes on" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_list_from_this_device_is_taken_in_and_what_is_wrong_with_it_is_named_by_row_and_column()
    {
        var page = await Stage.OpenAsync("changeover", locale: "de-DE");
        await page.Locator("input[type=file]").SetInputFilesAsync(List("Tin Orchard.csv", "input,name,source,role\n1,Kick,kick drum,\n99,Cello,cello,\n3,Voice,vocal,dancer\n"));
        await Expect(page.Locator(".intake [role=status]")).ToContainTextAsync("Tin Orchard steht im Ablauf: 1 Eingänge, 2 Anmerkungen.", new() { Timeout = 60_000 });
        await Expect(page.Locator(".problems li").Nth(0)).ToContainTextAsync("Zeile 3, Spalte input: „99“ ist kein Eingang dieses Pults");
        await Expect(page.Locator(".problems li").Nth(1)).ToContainTextAsync("Zeile 4, Spalte role:");
        await Expect(page.Locator(".which a")).ToContainTextAsync("Tin Orchard");
        await PageStage.AssertAccessibleAsync(page);

        await page.Locator("input[type=file]").SetInputFilesAsync(List("empty.csv", ""));
        await Expect(page.Locator(".intake .bad")).ToContainTextAsync("empty.csv");
        await PageStage.AssertAccessibleAsync(page);
    }

    [Fact]
    public async Task A_phone_scrolls_one_way_only()
    {
        await Stage.PostListAsync("Tin Orchard", "input,name,source,player\n1,Kick,kick drum,Ada Moor\n2,Cello,cello,Dee Vale\n");
        var phone = await Stage.OpenAsync("changeover", width: 390, height: 844);
        await Expect(Line(phone, 2)).ToBeVisibleAsync();
        Assert.Equal(390, await phone.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await PageStage.AssertAccessibleAsync(phone);
    }

    private static FilePayload List(string name, string text) => new() { Name = name, MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes(text) };

    private static ILocator Line(IPage page, int input) => page.Locator("tbody tr").Nth(input - 1);
}
