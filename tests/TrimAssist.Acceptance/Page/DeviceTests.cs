using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace TrimAssist.Acceptance.Page;

/// <summary>Pairing devices from the engineer's page.</summary>
[Collection(nameof(TheBrowser))]
public sealed class DeviceTests(TheBrowser browser) : StagedTests(browser)
{
    [Fact]
    public async Task A_phone_is_paired_by_the_code_shown_and_its_credential_is_taken_back()
    {
        var page = await Stage.OpenAsync("devices");
        await PageStage.AssertAccessibleAsync(page);
        await page.GetByLabel("Name").FillAsync("monitors");
        await page.GetByLabel("5 Bench 5").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Show a code" }).ClickAsync();
        await PageStage.AssertAccessibleAsync(page);

        var phone = await Stage.OpenPairingAsync();
        await phone.GetByLabel("Code").FillAsync("NOT A CODE");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Pair" }).ClickAsync();
        await Expect(phone.GetByRole(AriaRole.Alert)).ToContainTextAsync("That is no code");
        await PageStage.AssertAccessibleAsync(phone);
        await phone.GetByLabel("Code").FillAsync(await page.Locator(".code").InnerTextAsync());
        await phone.GetByRole(AriaRole.Button, new() { Name = "Pair" }).ClickAsync();
        await Expect(phone).ToHaveURLAsync(Stage.Url + "stage");

        var device = page.Locator(".paired li");
        await Expect(device).ToContainTextAsync("monitors");
        await Expect(device).ToContainTextAsync("inputs 5");
        await PageStage.AssertAccessibleAsync(page);
        await device.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(device.GetByRole(AriaRole.Button)).ToContainTextAsync("Again");
        await device.GetByRole(AriaRole.Button).ClickAsync();
        await Expect(device).ToHaveCountAsync(0);
    }
}
