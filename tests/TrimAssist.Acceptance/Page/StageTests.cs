using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>A safe patch between a phone on stage and the engineer's tablet.</summary>
[Collection(nameof(TheBrowser))]
public sealed class StageTests(TheBrowser browser) : StagedTests(browser)
{
    // A mute that nobody could read back within a second is lost for good: half as fast, a busy machine still reads it back in time.
    private protected override async Task BeginAsync()
    {
        await Stage.StartAsync();
        Stage.SetPace(.5);
    }

    [Fact]
    public async Task The_stage_asks_the_engineer_mutes_the_plug_is_changed_and_the_input_is_opened_again()
    {
        var engineer = await Stage.OpenAsync();
        var phone = await OpenPhoneAsync();
        await Expect(Big(phone)).ToHaveTextAsync("Ask first");
        await phone.GetByLabel("Another instrument").CheckAsync();
        await phone.Locator("[data-ask]").ClickAsync();
        await Expect(Big(phone)).ToHaveTextAsync("Wait");
        await PageStage.AssertAccessibleAsync(phone);

        await Expect(engineer.Locator(".banner")).ToContainTextAsync("Another instrument");
        await PageStage.AssertAccessibleAsync(engineer);
        Assert.Empty(Stage.Desk.Writes);
        await MuteAsync(engineer);
        await Expect(Big(phone)).ToHaveTextAsync("Plug now");
        await PageStage.AssertAccessibleAsync(phone);
        Assert.Equal(["/bench/5/closed 1"], Stage.Desk.WritesTo(5));

        await phone.Locator("[data-done]").ClickAsync();
        await Expect(Big(phone)).ToHaveTextAsync("Hands off");
        await PageStage.AssertAccessibleAsync(phone);
        var open = PageStage.Row(engineer, 5).Locator(".confirm.hold");
        await Expect(open).ToBeVisibleAsync();
        await engineer.WaitForTimeoutAsync(1100);
        await PageStage.ConfirmAsync(engineer, open);
        await Expect(Big(phone)).ToHaveTextAsync("Live");
        Assert.Equal(["/bench/5/closed 1", "/bench/5/closed 0"], Stage.Desk.WritesTo(5));
    }

    [Fact]
    public async Task Plug_now_falls_to_stop_by_the_phones_own_clock_when_the_network_is_cut_and_on_waking()
    {
        var phone = await MutedAsync();
        await phone.Context.SetOfflineAsync(true);
        await Expect(Big(phone)).ToHaveTextAsync("Stop. Ask.");
        await PageStage.AssertAccessibleAsync(phone);
        await phone.Context.SetOfflineAsync(false);
        await Expect(Big(phone)).ToHaveTextAsync("Plug now");

        // Whatever a sleeping phone showed last is not believed on waking: the first thing seen is "stop", until an answer has come.
        await phone.RouteAsync("**/patch", route => route.AbortAsync());
        await phone.EvaluateAsync("document.dispatchEvent(new Event('visibilitychange'))");
        Assert.Equal("Stop. Ask.", await Big(phone).TextContentAsync());
    }

    [Fact]
    public async Task A_question_that_nobody_answered_is_asked_again_though_its_patch_is_gone()
    {
        var phone = await OpenPhoneAsync();
        await phone.RouteAsync("**/patch", route => route.AbortAsync());
        await phone.EvaluateAsync("document.querySelector('[data-plug]').dataset.patch = 'waiting'");
        await Expect(phone.Locator("#health")).ToContainTextAsync("The service is not answering");
        await phone.EvaluateAsync("document.querySelector('[data-plug]').dataset.patch = ''");
        await phone.UnrouteAllAsync();

        await Expect(phone.Locator("#health")).ToBeHiddenAsync();
        await phone.Locator("[data-ask]").ClickAsync();
        await Expect(Big(phone)).ToHaveTextAsync("Wait");
        await PageStage.AssertAccessibleAsync(phone);
    }

    [Fact]
    public async Task A_mute_that_is_opened_at_the_desk_is_told_to_the_stage()
    {
        var phone = await MutedAsync();
        Stage.Desk.Turn(5, "closed", 0, told: false);
        await Expect(Big(phone)).ToHaveTextAsync("Stop. Ask.");
        await Expect(phone.Locator("[data-ask]")).ToBeVisibleAsync();
        await Expect(phone.Locator("[data-done]")).ToBeHiddenAsync();
        await PageStage.AssertAccessibleAsync(phone);
    }

    [Fact]
    public async Task Inputs_are_chosen_once_and_kept_in_the_address()
    {
        var phone = await Stage.OpenAsync("stage", width: 390, height: 844);
        await PageStage.AssertAccessibleAsync(phone);
        await phone.GetByLabel("2 Bench 2").CheckAsync();
        await phone.GetByLabel("5 Bench 5").CheckAsync();
        await phone.GetByRole(AriaRole.Button, new() { Name = "These are mine" }).ClickAsync();
        await Expect(phone.Locator("[data-plug]")).ToHaveCountAsync(2);
        Assert.EndsWith("stage?input=2&input=5", phone.Url, StringComparison.Ordinal);
        Assert.Equal(390, await phone.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await PageStage.AssertAccessibleAsync(phone);
    }

    [Fact]
    public async Task The_check_tells_the_stage_what_is_wanted()
    {
        await Stage.PostAsync("desks/bench/checks", """{"inputs":[5]}""");
        var phone = await OpenPhoneAsync();
        await Expect(phone.Locator(".wish")).ToContainTextAsync("Play your loudest part.");
        await PageStage.AssertAccessibleAsync(phone);
    }

    [Fact]
    public async Task The_phone_stays_awake_while_it_is_looked_at_and_whoever_holds_it_wants_that()
    {
        var phone = await OpenPhoneAsync();
        await phone.Context.AddInitScriptAsync("""
            {
              window.locks = 0;
              const wake = { request: async () => {
                window.locks++;
                const lock = new EventTarget();
                lock.release = async () => { window.locks--; lock.dispatchEvent(new Event('release')); };
                window.lock = lock;
                return lock;
              } };
              Object.defineProperty(navigator, 'wakeLock', { value: wake, configurable: true });
            }
            """);
        await phone.ReloadAsync();
        // As when the page is hidden: the browser lets go by itself, and coming back asks again.
        var wake = phone.Locator("[data-wake]");
        await Expect(wake).ToHaveTextAsync("Screen stays on");
        await phone.EvaluateAsync("() => window.lock.release()");
        await Expect(wake).ToHaveTextAsync("Screen may sleep");
        await phone.EvaluateAsync("() => document.dispatchEvent(new Event('visibilitychange'))");
        await Expect(wake).ToHaveTextAsync("Screen stays on");

        await wake.ClickAsync();
        await Expect(wake).ToHaveTextAsync("Screen may sleep");
        await phone.EvaluateAsync("() => document.dispatchEvent(new Event('visibilitychange'))");
        Assert.Equal(0, await phone.EvaluateAsync<int>("window.locks"));
        await PageStage.AssertAccessibleAsync(phone);
    }

    private static ILocator Big(IPage phone) => phone.Locator(".big");

    private Task<IPage> OpenPhoneAsync() => Stage.OpenAsync("stage?input=5", width: 390, height: 844);

    private static Task MuteAsync(IPage engineer) => PageStage.PressTwiceAsync(engineer, engineer.Locator(".banner .confirm.mute"));

    private async Task<IPage> MutedAsync()
    {
        var engineer = await Stage.OpenAsync();
        var phone = await OpenPhoneAsync();
        await phone.Locator("[data-ask]").ClickAsync();
        await MuteAsync(engineer);
        await Expect(Big(phone)).ToHaveTextAsync("Plug now");
        return phone;
    }
}
