using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Takes the documentation's pictures. Runs only where <c>TRIMASSIST_PICTURES</c> names a folder: eng/page-pictures.sh.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PagePictures(TheBrowser browser)
{
    private static readonly string[] Themes = ["dark", "light", "contrast"];
    private static readonly Screen Tablet = new("", 1280, 800);
    private static readonly Screen Small = new("-small", 1024, 768);
    private static readonly Screen Laptop = new("-laptop", 1440, 900);
    private static readonly Screen Phone = new("-phone", 390, 844);

    private static string Folder
    {
        get
        {
            var folder = Environment.GetEnvironmentVariable("TRIMASSIST_PICTURES");
            Assert.SkipWhen(string.IsNullOrEmpty(folder), "TRIMASSIST_PICTURES names no folder");
            return folder;
        }
    }

    [Fact]
    public async Task The_demo_is_photographed_in_every_view_and_look()
    {
        var folder = Folder;
        var url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}/");
        await using var demo = TheProgram.TrimAssist("demo", "--urls", url.TrimEnd('/'));
        using var http = new HttpClient { BaseAddress = new Uri(url + "api/") };

        await UntilAsync(demo, 60, () => HasPlayedAsync(http));
        await TakeAsync(url, "check", Tablet);
        await UntilAsync(demo, 120, () => HasAsync(http, "trim"));
        await TakeAsync(url, "page", Tablet);
        await TakeAsync(url, "page", Small);
        await TakeAsync(url, "reason", Tablet, act: page => page.Locator(".reason summary").First.ClickAsync());
        await TakeAsync(url, "menu", Tablet, act: page => page.Locator(".look summary").ClickAsync());
        await TakeAsync(url, "page", Phone);
        await TakeAsync(url, "page", Laptop);
        foreach (var theme in Themes[1..])
            await TakeAsync(url, theme, Tablet, theme);
        await TakeAsync(url, "review", Tablet, act: page => page.Locator(".review summary").ClickAsync());
        await UntilAsync(demo, 240, () => HasAsync(http, "mute"));
        await TakeAsync(url, "alarm", Tablet);
        foreach (var theme in Themes)
            await TakeAsync(url + "history?input=7&span=120", $"history-{theme}", Tablet, theme);
        await TakeAsync(url + "history?input=7&span=120", "history", Phone);

        async Task TakeAsync(string address, string name, Screen screen, string theme = "dark", Func<IPage, Task>? act = null)
        {
            var page = await OpenAsync(address, screen, theme);
            await (act?.Invoke(page) ?? Task.CompletedTask);
            await page.WaitForTimeoutAsync(1500);
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + screen.Name + ".png") });
            await page.Context.CloseAsync();
        }
    }

    [Fact]
    public async Task A_bench_is_photographed_when_the_stage_asks_when_alarms_flood_and_when_meters_stop()
    {
        var folder = Folder;
        await using var stage = new PageStage(browser);
        await stage.StartAsync();
        await stage.ProposalsAsync();
        var engineer = await stage.OpenAsync();
        foreach (var theme in Themes)
        {
            var phone = await OpenAsync(stage.Url + "stage?input=5", Phone, theme);
            if (theme == Themes[0])
            {
                await phone.Locator("[data-ask]").ClickAsync();
                await Expect(phone.Locator(".big")).ToHaveTextAsync("Wait");
                await PhotographAsync(phone, "stage-wait");
                await PhotographAsync(engineer, "stage-asks");
                await PageStage.PressTwiceAsync(engineer, engineer.Locator(".banner .confirm.mute"));
            }

            await Expect(phone.Locator(".big")).ToHaveTextAsync("Plug now");
            await PhotographAsync(phone, $"stage-{theme}");
            if (theme == Themes[0])
            {
                await phone.Context.SetOfflineAsync(true);
                await Expect(phone.Locator(".big")).ToHaveTextAsync("Stop. Ask.");
                await PhotographAsync(phone, "stage-stop");
            }

            await phone.Context.CloseAsync();
        }

        await stage.PostListAsync("Harbour Kites", "# start: 18:30\ninput,name,source,player\n1,Kick,kick,Ada Moor\n2,Bass,bass guitar,Ben Reed\n3,Guitar,guitar,Fay Holt\n7,Flute,flute,Cy Lund\n");
        await stage.PostListAsync("Tin Orchard", "# start: 19:15\ninput,name,source,player\n1,Kick,kick,Ada Moor\n2,Cello,cello,Dee Vale\n3,Voice,vocal,Eve Hart\n4,Keys,keys,Gil Marsh\n");
        foreach (var theme in Themes)
        {
            var page = await OpenAsync(stage.Url + "changeover?act=Tin%20Orchard", Tablet, theme);
            await PhotographAsync(page, $"changeover-{theme}");
            await page.Context.CloseAsync();
        }

        var devices = await OpenAsync(stage.Url + "devices", Tablet, "dark");
        await devices.GetByRole(AriaRole.Button, new() { Name = "Show a code" }).ClickAsync();
        await Expect(devices.Locator(".code")).ToBeVisibleAsync();
        await PhotographAsync(devices, "devices");
        await devices.Context.CloseAsync();

        await stage.PostAsync("desks/bench/watch", """{"on":true}""");
        await stage.PassAsync(4);
        // On a busy machine the frames of a bang may arrive at once, and what is said first is taken back.
        var cable = engineer.GetByText("Mute 8 inputs", new() { Exact = true });
        await PageStage.EventuallyAsync(
            async () =>
            {
                await stage.PullPlugsAsync(cable, [.. Enumerable.Range(7, 8)]);
                await PhotographAsync(engineer, "cable");
                return await cable.IsVisibleAsync();
            },
            60,
            () => "the cable's bang was always taken back");
        for (var input = 15; input <= 20; input++)
        {
            // Further apart than alarms of one cause.
            stage.Desk.PullPlug(input);
            await engineer.WaitForTimeoutAsync(1300);
        }

        await Expect(engineer.Locator(".banner summary")).ToBeVisibleAsync();
        await engineer.Locator(".banner summary").ClickAsync();
        await PhotographAsync(engineer, "flood");
        await engineer.Keyboard.PressAsync("Escape");
        stage.Desk.SendsMeters = false;
        await Expect(engineer.Locator("#health")).ToContainTextAsync("No meters since");
        await PhotographAsync(engineer, "stale");

        async Task PhotographAsync(IPage page, string name)
        {
            await page.WaitForTimeoutAsync(800);
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png") });
        }
    }

    [Fact]
    public async Task Sixty_four_inputs_and_a_service_that_is_lost_are_photographed()
    {
        var folder = Folder;
        await using var stage = new PageStage(browser, inputs: 64);
        await stage.StartAsync();
        await stage.ProposalsAsync();
        for (var input = 1; input <= 48; input++)
            stage.Desk.Play(input, -8 - (input * 7 % 30));
        await stage.PassAsync(12);
        var cable = stage.Cable();
        foreach (var screen in new[] { Tablet, Small })
        {
            var page = await OpenAsync(stage.Url, screen, "dark");
            await page.WaitForTimeoutAsync(800);
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"many{screen.Name}.png") });
            await page.Context.CloseAsync();
        }

        var cut = await OpenAsync(cable.Url, Tablet, "dark");
        cable.Pull();
        await Expect(cut.Locator("#health")).ToContainTextAsync("The service is not answering");
        await cut.ScreenshotAsync(new() { Path = Path.Combine(folder, "lost.png") });
        await cut.Context.CloseAsync();
    }

    private async Task<IPage> OpenAsync(string address, Screen screen, string theme)
    {
        var context = await browser.ContextAsync(screen.Width, screen.Height, "en-GB");
        await context.AddInitScriptAsync($"localStorage.setItem('trimassist.theme', '{theme}');");
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        await PageStage.AliveAsync(page);
        return page;
    }

    private static Task UntilAsync(TheProgram demo, int seconds, Func<Task<bool>> holds) =>
        PageStage.EventuallyAsync(holds, seconds, () => string.Join('\n', demo.Errors));

    private static async Task<bool> HasPlayedAsync(HttpClient http) =>
        await GetAsync(http, "desks/demo/inputs") is { } inputs && inputs.Count(input => input!["loudestPassageDbfs"] is not null) > 3;

    private static async Task<bool> HasAsync(HttpClient http, string kind) =>
        await GetAsync(http, "proposals?state=open") is { } open && open.Any(one => one!["kind"]!.GetValue<string>() == kind);

    private static async Task<JsonArray?> GetAsync(HttpClient http, string path)
    {
        try
        {
            return await http.GetFromJsonAsync<JsonArray>(path);
        }
        catch (HttpRequestException)
        {
            return null;
        }
    }

    private sealed record Screen(string Name, int Width, int Height);
}
