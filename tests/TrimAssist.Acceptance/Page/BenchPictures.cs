using System.Globalization;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Photographs the engineer's view over a bench that plays, floods with alarms, stops and is lost. Runs only where <c>TRIMASSIST_PICTURES</c> names a folder.</summary>
[Collection(nameof(TheBrowser))]
public sealed class BenchPictures(TheBrowser browser)
{
    private const int Played = 16;

    private static readonly string[] Band =
    [
        "Kick", "Snare", "Hat", "Tom high", "Tom low", "Overhead left", "Overhead right", "Bass", "Guitar Fay", "Guitar Oskar",
        "Keys left", "Keys right", "Fiddle", "Accordion", "Voice Ada", "Voice Ben", "Voice Cy", "Playback left", "Playback right", "Talk",
    ];

    // What each plays towards: some far too hot, some far too quiet, most about right.
    private static readonly double[] Peaks = [-5, -13, -40, -17, -15, -21, -22, -9, -14, -36, -16, -16, -44, -20, -12, -3];

    private readonly Camera _camera = new(browser);

    [Fact]
    public async Task Every_state_is_photographed_on_every_screen_in_every_look()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser);
        Name(stage, Band);
        await stage.StartAsync();
        var cable = stage.Cable();
        var tablet = await _camera.OpenAsync(stage.Url, Camera.Tablet);
        await stage.PassAsync(5);
        await TakeAllAsync("quiet");

        var inputs = string.Join(',', Enumerable.Range(1, Played));
        var check = await stage.PostAsync("desks/bench/checks", $$"""{"inputs":[{{inputs}}]}""");
        for (var input = 1; input <= Played; input++)
            stage.Desk.Play(input, Peaks[input - 1]);
        await stage.PassAsync(20);
        await Expect(tablet.Locator(".check")).ToContainTextAsync("Check: all");
        await stage.PostAsync($"checks/{check["id"]}/finish", "{}");
        await ConfirmAsync(1, "applied");
        stage.Desk.TakesWrites = false;
        await ConfirmAsync(16, "failed");
        stage.Desk.TakesWrites = true;
        await CalmAsync(stage);
        await TakeAllAsync("busy");

        stage.Desk.Rest();
        await stage.PostAsync("desks/bench/watch", """{"on":true}""");
        await stage.PullPlugsAsync(tablet.GetByText("Mute 8 inputs", new() { Exact = true }), [.. Enumerable.Range(4, 8)]);
        await Camera.TakeAsync(tablet, "cable");
        for (var input = 12; input <= 17; input++)
        {
            // Further apart than alarms of one cause.
            stage.Desk.PullPlug(input);
            await stage.PassAsync(1.3);
        }

        await Expect(tablet.Locator(".banner summary")).ToBeVisibleAsync();
        // What the first bang offers lives for seconds: each screen sees one of its own.
        await TakeAllAsync("flood", page => stage.PullPlugAsync(17, page.Locator(".banner .confirm.mute")));
        foreach (var screen in new[] { Camera.Tablet, Camera.Phone })
            await _camera.TakeAsync(stage.Url, $"flood-list-{screen.Name}", screen, act: page => page.Locator(".banner summary").ClickAsync());

        await TakeAllAsync("stale", StopAsync, () => stage.Desk.SendsMeters = true);
        await TakeAllAsync("lost", CutAsync, cable.Plug);
        var history = await _camera.OpenAsync(cable.Url + "history?input=8&span=120", Camera.Tablet);
        await CutAsync(history);
        await Camera.TakeAsync(history, "history-lost");

        Task StopAsync(IPage page)
        {
            stage.Desk.SendsMeters = false;
            return Expect(page.Locator("#health")).ToContainTextAsync("No meters since");
        }

        Task CutAsync(IPage page)
        {
            cable.Pull();
            return Expect(page.Locator("#health")).ToContainTextAsync("The service is not answering");
        }

        async Task ConfirmAsync(int input, string state)
        {
            var control = PageStage.Row(tablet, input).Locator(".act .confirm");
            await Expect(control).ToBeVisibleAsync();
            await PageStage.ConfirmAsync(tablet, control);
            await Expect(PageStage.Row(tablet, input).Locator($".state.{state}")).ToBeVisibleAsync();
        }

        async Task TakeAllAsync(string state, Func<IPage, Task>? begin = null, Action? end = null)
        {
            foreach (var screen in new[] { Camera.Tablet, Camera.Small, Camera.Laptop, Camera.Phone })
            {
                var page = await _camera.OpenAsync(cable.Url, screen);
                await (begin?.Invoke(page) ?? Task.CompletedTask);
                foreach (var theme in Camera.Themes)
                {
                    await Camera.TurnAsync(page, theme);
                    await Camera.TakeAsync(page, $"{state}-{screen.Name}-{theme}");
                }

                end?.Invoke();
                await page.Context.CloseAsync();
            }
        }
    }

    [Fact]
    public async Task Sixty_four_inputs_are_photographed_on_a_tablet()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser, inputs: 64);
        Name(stage, [.. Enumerable.Range(1, 48).Select(input => string.Create(CultureInfo.InvariantCulture, $"{Band[input % Band.Length]} {(input / Band.Length) + 1}"))]);
        await stage.StartAsync();
        await stage.ProposalsAsync();
        for (var input = 1; input <= 48; input++)
            stage.Desk.Play(input, -8 - (input * 7 % 30));
        await stage.PassAsync(12);
        foreach (var screen in new[] { Camera.Tablet, Camera.Small })
        {
            await _camera.TakeAsync(stage.Url, $"many-{screen.Name}", screen);
            await _camera.TakeAsync(stage.Url, $"many-large-{screen.Name}", screen, act: page => page.Locator("[data-choose-rows=large]").EvaluateAsync("choice => choice.click()"));
        }
    }

    [Fact]
    public async Task A_desk_that_never_answers_is_photographed()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser);
        (stage.Desk.SendsMeters, stage.Desk.Answers) = (false, false);
        await stage.StartAsync(untilLive: false);
        foreach (var screen in new[] { Camera.Tablet, Camera.Phone })
        {
            var page = await _camera.BlankAsync(stage.Url, screen);
            await Expect(page.Locator("#health")).ToContainTextAsync("No meters are coming");
            await Camera.TakeAsync(page, $"silent-{screen.Name}");
            await page.Context.CloseAsync();
        }
    }

    // A busy machine lets meters pause: what that raised is not what the picture is about.
    private static async Task CalmAsync(PageStage stage)
    {
        foreach (var alarm in (await stage.GetAsync("alarms?state=active"))!.AsArray())
            await stage.PostAsync($"alarms/{alarm!["id"]}/acknowledge", "{}");
    }

    private static void Name(PageStage stage, IReadOnlyList<string> names)
    {
        foreach (var (index, name) in names.Index())
            stage.Desk.Name(index + 1, name);
    }
}
