using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>Photographs the running demo. Runs only where <c>TRIMASSIST_PICTURES</c> names a folder: eng/page-pictures.sh.</summary>
[Collection(nameof(TheBrowser))]
public sealed class PagePictures(TheBrowser browser)
{
    private readonly Camera _camera = new(browser);

    [Fact]
    public async Task The_demo_is_photographed_in_its_check_and_after_it()
    {
        Camera.Needed();
        var url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find(ProtocolType.Tcp)}/");
        await using var demo = TheProgram.TrimAssist("demo", "--urls", url.TrimEnd('/'));
        using var http = new HttpClient { BaseAddress = new Uri(url + "api/") };

        await UntilAsync(demo, 60, () => HasPlayedAsync(http));
        await _camera.TakeAsync(url, "check", Camera.Tablet);
        await UntilAsync(demo, 120, () => HasAsync(http, "trim"));
        await _camera.TakeAsync(url, "page", Camera.Tablet);
        await _camera.TakeAsync(url, "page-small", Camera.Small);
        foreach (var screen in new[] { Camera.Tablet, Camera.Phone })
        {
            await _camera.TakeAsync(url, $"reason-{screen.Name}", screen, act: page => page.Locator(".reason summary").First.ClickAsync());
            await _camera.TakeAsync(url, $"menu-{screen.Name}", screen, act: page => page.Locator(".look summary").ClickAsync());
            await _camera.TakeAsync(url, $"review-{screen.Name}", screen, act: page => page.Locator(".review summary").ClickAsync());
        }

        foreach (var theme in Camera.Themes)
            await _camera.TakeAsync(url + "history?input=7&span=120", $"history-{theme}", Camera.Tablet, theme);
        await _camera.TakeAsync(url + "history?input=7&span=120", "history-phone", Camera.Phone);
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
}
