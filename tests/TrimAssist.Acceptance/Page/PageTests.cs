using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>The engineer's page in a real browser, against the whole program and a desk on the wire.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PageTests(TheBrowser browser) : StagedTests(browser)
{
    [Fact]
    public async Task A_held_control_writes_once_and_a_touched_one_writes_nothing()
    {
        var page = await OpenWithProposalsAsync();
        var control = PageStage.Row(page, 1).Locator(".act .confirm");
        await PageStage.TouchAsync(control);
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        Assert.Empty(Stage.Desk.WritesTo(1));

        await PageStage.ConfirmAsync(page, control);
        await Expect(PageStage.Row(page, 1).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(1));
        await PageStage.AssertAccessibleAsync(page);
    }

    [Fact]
    public async Task An_open_increase_needs_a_second_gesture_that_names_it()
    {
        var page = await OpenWithProposalsAsync();
        var control = PageStage.Row(page, 2).Locator(".act .confirm");
        var danger = control.GetByText("It is open: up");
        while (await PageStage.HoldAsync(page, control) != "armed" || !await danger.IsVisibleAsync())
            Assert.Empty(Stage.Desk.WritesTo(2));
        await PageStage.AssertAccessibleAsync(page);
        await Expect(danger).ToBeHiddenAsync();
        Assert.Empty(Stage.Desk.WritesTo(2));

        await PageStage.ConfirmAsync(page, control);
        await Expect(PageStage.Row(page, 2).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(2));
    }

    [Fact]
    public async Task By_keyboard_a_held_key_confirms_and_a_stray_one_does_not()
    {
        var page = await OpenWithProposalsAsync();
        var control = PageStage.Row(page, 3).Locator(".act .confirm");
        await control.FocusAsync();
        foreach (var key in new[] { "Enter", " " })
            await PageStage.StrikeAsync(control, key);
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        Assert.Empty(Stage.Desk.WritesTo(3));

        await PageStage.AssertAccessibleAsync(page);
        await PageStage.HoldKeyAsync(page, control, "Enter");
        await Expect(PageStage.Row(page, 3).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(3));
    }

    [Fact]
    public async Task A_verified_trim_is_taken_back_by_a_proposal_of_its_own()
    {
        var page = await OpenWithProposalsAsync();
        var row = PageStage.Row(page, 1);
        await PageStage.ConfirmAsync(page, row.Locator(".act .confirm"));
        await Expect(row.Locator(".state")).ToHaveTextAsync("✓ verified");
        await row.Locator("[data-undo]").ClickAsync();
        await Expect(row.Locator(".what")).ToContainTextAsync("→ +30.0 dB");
        await PageStage.AssertAccessibleAsync(page);
        Assert.Single(Stage.Desk.WritesTo(1));
        await page.WaitForTimeoutAsync(1100);
        // The way back is an increase on an open input: named first, then held again.
        await PageStage.ConfirmAsync(page, row.Locator(".act .confirm"));
        await Expect(row.Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Equal("/bench/1/gain 30", Stage.Desk.WritesTo(1)[^1]);
    }

    [Fact]
    public async Task A_proposal_that_changes_under_the_finger_is_not_confirmed()
    {
        var page = await OpenWithProposalsAsync();
        var control = PageStage.Row(page, 4).Locator(".act .confirm");
        await control.HoverAsync();
        await page.Mouse.DownAsync();
        await control.EvaluateAsync("button => { button.dataset.digest = 'another'; }");
        await page.WaitForTimeoutAsync(PageStage.LongEnough);
        await page.Mouse.UpAsync();
        Assert.Empty(Stage.Desk.WritesTo(4));

        await control.EvaluateAsync("button => { button.dataset.digest = 'a third'; }");
        await page.Mouse.DownAsync();
        await Expect(page.Locator("#refusal")).ToContainTextAsync("It has just changed");
        await page.Mouse.UpAsync();
        await PageStage.AssertAccessibleAsync(page);
        Assert.Empty(Stage.Desk.WritesTo(4));
    }

    [Fact]
    public async Task Two_engineers_who_confirm_the_same_proposal_send_it_once_and_both_see_it_verified()
    {
        var (left, right) = (await OpenWithProposalsAsync(), await Stage.OpenAsync());
        await PageStage.AssertAccessibleAsync(left);
        await Task.WhenAll(new[] { left, right }.Select(page => PageStage.ConfirmAsync(page, PageStage.Row(page, 1).Locator(".act .confirm"))));
        foreach (var page in new[] { left, right })
        {
            await Expect(PageStage.Row(page, 1).Locator(".state")).ToHaveTextAsync("✓ verified");
            await PageStage.AssertAccessibleAsync(page);
        }

        Assert.Single(Stage.Desk.WritesTo(1));
    }

    [Fact]
    public async Task By_keyboard_alone_a_check_is_chosen_and_a_trim_is_found_and_set()
    {
        var page = await OpenWithProposalsAsync();
        await PageStage.TabToAsync(page, "summary.tool >> text=Inputs");
        await page.Keyboard.PressAsync("Enter");
        await PageStage.TabToAsync(page, ".inputs input >> nth=0");
        await page.Keyboard.PressAsync("Space");
        await Expect(page.GetByText("Inputs 5")).ToBeVisibleAsync();
        await page.Keyboard.PressAsync("Escape");
        await Expect(page.Locator(".inputs")).ToBeHiddenAsync();
        Assert.Equal("SUMMARY", await page.EvaluateAsync<string>("document.activeElement.tagName"));

        await PageStage.TabToAsync(page, ".row .act .confirm >> nth=0");
        await PageStage.HoldKeyAsync(page, PageStage.Row(page, 1).Locator(".act .confirm"), " ");
        await Expect(PageStage.Row(page, 1).Locator(".state")).ToHaveTextAsync("✓ verified");
        Assert.Single(Stage.Desk.WritesTo(1));
    }

    [Fact]
    public async Task It_can_be_installed_and_a_first_view_is_light()
    {
        var page = await Stage.OpenAsync();
        using var manifest = System.Text.Json.JsonDocument.Parse(await page.EvaluateAsync<string>("fetch(document.querySelector('link[rel=manifest]').href).then(answer => answer.text())"));
        Assert.Equal("standalone", manifest.RootElement.GetProperty("display").GetString());
        foreach (var icon in manifest.RootElement.GetProperty("icons").EnumerateArray())
            Assert.Equal(200, await page.EvaluateAsync<int>("path => fetch(path).then(answer => answer.status)", icon.GetProperty("src").GetString()));
        Assert.InRange(await PageStage.WeightAsync(page), 10_000, 300_000);
    }

    [Fact]
    public async Task A_pulled_plug_brings_a_mute_that_two_presses_send()
    {
        var page = await Stage.OpenAsync();
        await Stage.PostAsync("desks/bench/watch", """{"on":true}""");
        var mute = page.Locator(".banner .confirm.mute");
        await Stage.PullPlugAsync(9, mute);
        await PageStage.AssertAccessibleAsync(page);

        // A double click as one hurried hand makes it.
        await mute.EvaluateAsync("button => { for (let press = 0; press < 2; press++) button.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true, isPrimary: true })); }");
        await page.WaitForTimeoutAsync(500);
        Assert.Empty(Stage.Desk.WritesTo(9));
        await mute.ClickAsync();
        await PageStage.EventuallyAsync(() => Task.FromResult(Stage.Desk.WritesTo(9).Count == 1), 5, () => "the mute was never written");
        await Expect(PageStage.Row(page, 9).Locator(".flag.muted")).ToBeVisibleAsync();
        Assert.Equal(["/bench/9/closed 1"], Stage.Desk.WritesTo(9));
        await PageStage.AssertAccessibleAsync(page);
        await Stage.PostAsync("desks/bench/watch", """{"on":false}""");
    }

    [Fact]
    public async Task One_cable_with_three_inputs_is_one_matter_whose_mutes_two_presses_send_each_once()
    {
        var page = await Stage.OpenAsync();
        await Stage.PostAsync("desks/bench/watch", """{"on":true}""");
        await Stage.PullPlugsAsync(page.GetByText("Mute 3 inputs", new() { Exact = true }), 9, 10, 11);
        await Expect(page.Locator(".headline")).ToContainTextAsync("Pop · 3 inputs: 9, 10, 11");
        await PageStage.AssertAccessibleAsync(page);
        await PageStage.PressTwiceAsync(page, page.Locator(".banner .confirm.mute"));
        foreach (var input in new[] { 9, 10, 11 })
            await Expect(PageStage.Row(page, input).Locator(".flag.muted")).ToBeVisibleAsync();
        Assert.Equal(["/bench/10/closed 1", "/bench/11/closed 1", "/bench/9/closed 1"], Stage.Desk.Writes.Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_control_that_moves_asks_for_a_second_look()
    {
        var page = await OpenWithProposalsAsync();
        var control = PageStage.Row(page, 3).Locator(".act .confirm");
        await Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
        await PageStage.Row(page, 1).EvaluateAsync("row => { row.style.display = 'none'; }");
        await control.EvaluateAsync("button => button.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true, isPrimary: true }))");
        await Expect(page.Locator("#refusal")).ToContainTextAsync("It has just changed");
        Assert.Empty(await page.Locator(".confirm.holding").AllAsync());
        Assert.Empty(Stage.Desk.Writes);
    }

    [Fact]
    public async Task A_row_that_grows_out_of_sight_moves_nothing_under_a_finger_and_asks_for_nothing()
    {
        await Stage.ProposalsAsync();
        var page = await Stage.OpenAsync(width: 390, height: 844);
        var control = PageStage.Row(page, 4).Locator(".act .confirm");
        await page.EvaluateAsync("scrollTo(0, document.querySelector('.row:nth-child(3)').getBoundingClientRect().top)");
        await Expect(PageStage.Row(page, 1)).Not.ToBeInViewportAsync();
        await Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
        var seen = (await control.BoundingBoxAsync())!.Y;
        await PageStage.Row(page, 1).EvaluateAsync("row => { row.style.paddingBottom = '40px'; }");
        // The browser scrolls by as much before it draws.
        await page.EvaluateAsync("new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn)))");
        Assert.Equal(seen, (await control.BoundingBoxAsync())!.Y, 2f);
        await control.EvaluateAsync("button => button.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true, isPrimary: true }))");
        await Expect(control).ToHaveClassAsync(new System.Text.RegularExpressions.Regex("holding", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)));
        await Expect(page.Locator("#refusal")).ToBeHiddenAsync();
        await control.EvaluateAsync("button => button.dispatchEvent(new PointerEvent('pointerup', { bubbles: true, isPrimary: true }))");
        Assert.Empty(Stage.Desk.Writes);
    }

    [Fact]
    public async Task A_reason_opens_on_a_press_with_its_figures_in_the_pages_language()
    {
        await Stage.ProposalsAsync();
        var page = await Stage.OpenAsync(locale: "de-DE");
        var reason = PageStage.Row(page, 1).Locator(".reason");
        await reason.Locator("summary").ClickAsync();
        await Expect(reason.Locator(".sheet")).ToContainTextAsync("herunter");
        await Expect(reason.Locator("dt").First).ToHaveTextAsync("Spiel gehört");
        await PageStage.AssertAccessibleAsync(page);
        await page.Keyboard.PressAsync("Escape");
        await Expect(reason.Locator(".sheet")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task An_urgent_alarm_is_heard_only_where_sound_was_turned_on()
    {
        var page = await Stage.OpenAsync();
        await page.EvaluateAsync("""
            () => {
              window.tones = 0;
              const level = { gain: { setValueAtTime() {}, linearRampToValueAtTime() {} }, connect: to => to };
              window.AudioContext = class {
                state = 'running'; currentTime = 0; destination = {};
                createGain() { return level; }
                createOscillator() { window.tones++; return { frequency: {}, connect: () => level, start() {}, stop() {} }; }
              };
            }
            """);
        await Stage.PostAsync("desks/bench/watch", """{"on":true}""");
        await Stage.PullPlugAsync(9, page.Locator(".banner[data-urgent]"));
        Assert.Equal(0, await page.EvaluateAsync<int>("tones"));

        await page.GetByText("Menu", new() { Exact = true }).ClickAsync();
        await page.Locator("[data-choose-sound=on]").ClickAsync();
        Assert.Equal(2, await page.EvaluateAsync<int>("tones"));
        await PageStage.AssertAccessibleAsync(page);
        await page.Keyboard.PressAsync("Escape");
        var first = await page.Locator(".banner").GetAttributeAsync("data-urgent");
        await Stage.PullPlugAsync(12, page.Locator($".banner[data-urgent]:not([data-urgent='{first}'])"));
        await page.WaitForFunctionAsync("tones === 4");
    }

    [Fact]
    public async Task A_check_is_started_over_chosen_inputs_and_finished_from_the_page()
    {
        var page = await Stage.OpenAsync();
        await page.GetByText("Inputs 6").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "None" }).ClickAsync();
        // Whoever ticks a box looks at it first.
        await Expect(page.GetByText("Inputs 0")).ToBeVisibleAsync();
        await page.GetByLabel("6 Bench 6", new() { Exact = true }).CheckAsync();
        await PageStage.AssertAccessibleAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start check" }).ClickAsync();
        await Expect(page.Locator(".check")).ToHaveTextAsync("Check: 0 of 1 heard enough. Not yet: 6 Bench 6.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Finish check" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Start check" })).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData("dark")]
    [InlineData("light")]
    [InlineData("contrast")]
    public async Task Every_look_is_accessible_and_is_kept(string theme)
    {
        var page = await Stage.OpenAsync();
        await page.GetByText("Menu", new() { Exact = true }).ClickAsync();
        await page.Locator($"[data-choose-theme={theme}]").ClickAsync();
        await PageStage.AssertAccessibleAsync(page);
        await page.ReloadAsync();
        Assert.Equal(theme, await page.EvaluateAsync<string>("document.documentElement.dataset.theme"));
    }

    [Fact]
    public async Task It_speaks_the_browsers_language_or_the_one_chosen()
    {
        var page = await Stage.OpenAsync(locale: "de-DE");
        await Expect(page.Locator("html")).ToHaveAttributeAsync("lang", "de");
        await Expect(page.GetByText("Soundcheck starten")).ToBeVisibleAsync();
        await PageStage.AssertAccessibleAsync(page);
        await page.GetByText("Menü", new() { Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "English" }).ClickAsync();
        await Expect(page.Locator("html")).ToHaveAttributeAsync("lang", "en");
        await Expect(page.GetByText("Start check")).ToBeVisibleAsync();
        await PageStage.AliveAsync(page);
        await Expect(page.GetByText("Start check")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Twenty_four_inputs_fit_a_small_tablet_and_a_phone_scrolls_one_way_only()
    {
        var tablet = await Stage.OpenAsync();
        Assert.True(await tablet.EvaluateAsync<int>("document.documentElement.scrollHeight") <= 800);
        Assert.Equal(24, await tablet.Locator(".row").CountAsync());
        var phone = await Stage.OpenAsync(width: 390, height: 844);
        Assert.Equal(390, await phone.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await PageStage.AssertAccessibleAsync(phone);
    }

    [Fact]
    public async Task When_the_meters_stop_the_page_says_since_when_and_confirms_nothing_until_they_are_back()
    {
        var page = await OpenWithProposalsAsync();
        Stage.Desk.SendsMeters = false;
        await Expect(page.Locator("#health")).ToContainTextAsync("No meters since");
        await Expect(page.Locator("html")).ToHaveAttributeAsync("data-off", "");
        await Expect(PageStage.Row(page, 4).Locator(".act .confirm")).ToBeDisabledAsync();
        await Expect(page.Locator(".link")).ToContainTextAsync(new Regex("meters stopped|desk lost", RegexOptions.None, TimeSpan.FromSeconds(1)));
        Assert.NotEqual("", await PageStage.Row(page, 4).Locator("canvas").GetAttributeAsync("data-passage"));
        await PageStage.AssertAccessibleAsync(page);
        Stage.Desk.SendsMeters = true;
        await Expect(page.Locator("#health")).ToBeHiddenAsync();
        await Expect(PageStage.Row(page, 4).Locator(".act .confirm")).ToBeEnabledAsync();
    }

    [Fact]
    public async Task Nothing_leaves_the_service_and_the_strict_policy_is_kept()
    {
        await Stage.OpenAsync();
        Assert.Empty(Stage.Complaints);
    }

    private async Task<IPage> OpenWithProposalsAsync()
    {
        await Stage.ProposalsAsync();
        return await Stage.OpenAsync();
    }
}
