using Microsoft.Playwright;
using TrimAssist.Core.Assist;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Photographs the stage's phone, the band's phone, the running order and the paired devices. Runs only where <c>TRIMASSIST_PICTURES</c> names a folder.</summary>
[Collection(nameof(TheBrowser))]
public sealed class StagePictures(TheBrowser browser)
{
    private readonly Camera _camera = new(browser);

    [Fact]
    public async Task A_safe_patch_is_photographed_from_the_asking_to_the_opening()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser);
        await stage.StartAsync();
        await stage.ProposalsAsync();
        // A mute that nobody could read back within a second is lost for good: half as fast, a busy machine still reads it back in time.
        stage.SetPace(.5);
        await _camera.TakeAsync(stage.Url + "stage", "stage-choose", Camera.Phone);
        await stage.PostAsync("desks/bench/checks", """{"inputs":[5]}""");
        var engineer = await stage.OpenAsync();
        var phone = await _camera.OpenAsync(stage.Url + "stage?input=5", Camera.Phone);
        await Expect(phone.Locator(".big")).ToHaveTextAsync("Ask first");
        await Camera.TakeAsync(phone, "stage-ask");
        await phone.Locator("[data-ask]").ClickAsync();
        await Expect(phone.Locator(".big")).ToHaveTextAsync("Wait");
        await Camera.TakeAsync(phone, "stage-wait");
        await Camera.TakeAsync(engineer, "stage-asks");
        await PageStage.PressTwiceAsync(engineer, engineer.Locator(".banner .confirm.mute"));
        foreach (var theme in Camera.Themes)
        {
            await Camera.TurnAsync(phone, theme);
            await Expect(phone.Locator(".big")).ToHaveTextAsync("Plug now");
            await Camera.TakeAsync(phone, $"stage-{theme}");
        }

        await phone.Context.SetOfflineAsync(true);
        foreach (var theme in Camera.Themes)
        {
            await Camera.TurnAsync(phone, theme);
            await Expect(phone.Locator(".big")).ToHaveTextAsync("Stop. Ask.");
            await Camera.TakeAsync(phone, $"stage-stop-{theme}");
        }

        await phone.Context.SetOfflineAsync(false);
        await Camera.TurnAsync(phone, Camera.Themes[0]);
        await phone.Locator("[data-done]").ClickAsync();
        await Expect(phone.Locator(".big")).ToHaveTextAsync("Hands off");
        await Camera.TakeAsync(phone, "stage-settling");
        var open = PageStage.Row(engineer, 5).Locator(".confirm.hold");
        await Expect(open).ToBeVisibleAsync();
        await PageStage.ConfirmAsync(engineer, open);
        await Expect(phone.Locator(".big")).ToHaveTextAsync("Live");
        await Camera.TakeAsync(phone, "stage-live");
        await phone.Context.CloseAsync();
    }

    [Fact]
    public async Task The_running_order_and_the_paired_devices_are_photographed()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser);
        await stage.StartAsync();
        await stage.ProposalsAsync();
        await stage.PostListAsync("Harbour Kites", "# start: 18:30\ninput,name,source,player\n1,Kick,kick,Ada Moor\n2,Bass,bass guitar,Ben Reed\n3,Guitar,guitar,Fay Holt\n7,Flute,flute,Cy Lund\n");
        await stage.PostListAsync("Tin Orchard", "# start: 19:15\ninput,name,source,player\n1,Kick,kick,Ada Moor\n2,Cello,cello,Dee Vale\n3,Voice,vocal,Eve Hart\n4,Keys,keys,Gil Marsh\n");
        foreach (var theme in Camera.Themes)
            await _camera.TakeAsync(stage.Url + "changeover?act=Tin%20Orchard", $"changeover-{theme}", Camera.Tablet, theme);
        await _camera.TakeAsync(stage.Url + "changeover?act=Tin%20Orchard", "changeover-phone", Camera.Phone);
        foreach (var screen in new[] { Camera.Tablet, Camera.Phone })
        {
            await _camera.TakeAsync(stage.Url + "devices", $"devices-{screen.Name}", screen, act: async page =>
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Show a code" }).ClickAsync();
                await Expect(page.Locator(".code")).ToBeVisibleAsync();
            });
        }

        var pair = await _camera.BlankAsync(stage.Url + "pair", Camera.Phone);
        await Camera.TakeAsync(pair, "pair");
        await pair.Context.CloseAsync();
    }

    [Fact]
    public async Task A_rehearsal_room_is_photographed_on_a_phone()
    {
        Camera.Needed();
        await using var stage = new PageStage(browser) { Room = new RehearsalOptions() };
        await stage.StartAsync();
        await _camera.TakeAsync(stage.Url + "room", "room-choose", Camera.Phone);
        await stage.ProposalsAsync();
        foreach (var theme in Camera.Themes)
            await _camera.TakeAsync(stage.Url + "room?input=2&input=3&input=5", $"room-{theme}", Camera.Phone, theme);
        var phone = await _camera.OpenAsync(stage.Url + "room?input=2", Camera.Phone);
        await PageStage.PressTwiceAsync(phone, phone.Locator(".confirm.mute"));
        await Expect(phone.Locator(".flag.muted")).ToBeVisibleAsync();
        await Expect(phone.Locator(".confirm.hold")).ToBeVisibleAsync();
        await Camera.TakeAsync(phone, "room-muted");
        await phone.Context.CloseAsync();
    }
}
