using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>The whole program against a bench desk, with a real browser before it.</summary>
public sealed class PageStage : IAsyncLifetime
{
    private const string Chromium = "/usr/bin/chromium";
    private static readonly string[] Rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    private readonly int _port = TheProgram.FreePort(ProtocolType.Tcp);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-page-");
    private readonly Lazy<Task> _proposals;
    private IPlaywright? _playwright;
    private IBrowser? _browser;
    private IPage? _page;
    private TheProgram? _service;

    public PageStage() => _proposals = new(MakeProposalsAsync);

    internal BenchDesk Desk { get; } = new();

    internal HttpClient Http { get; private set; } = null!;

    internal string Url => string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{_port}/");

    /// <summary>What the browsers' consoles complained of, and requests that left the service.</summary>
    internal List<string> Complaints { get; } = [];

    private static bool HasBrowser => File.Exists(Chromium) || Environment.GetEnvironmentVariable("CI") is "true";

    public async ValueTask InitializeAsync()
    {
        if (!HasBrowser)
            return;
        Http = new HttpClient { BaseAddress = new Uri(Url + "api/") };
        await StartServiceAsync();
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Chromium,
            ChromiumSandbox = false,
            Args = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>Skips the test where there is no browser; a build server must have one.</summary>
    internal static void NeedsBrowser() => Assert.SkipUnless(HasBrowser, "chromium is not installed");

    internal async Task StartServiceAsync()
    {
        _service = TheProgram.TrimAssist("serve", "--desk", Desk.WriteProfile(_folder.FullName), "--data", _folder.FullName, "--urls", Url.TrimEnd('/'));
        await EventuallyAsync(async () => (await GetAsync("desks"))?[0]?["state"]?.GetValue<string>() == "live", 60, () => string.Join('\n', _service.Errors));
    }

    internal async Task StopServiceAsync()
    {
        if (_service is not null)
            await _service.DisposeAsync();
        _service = null;
    }

    /// <summary>Closes the page that was open, opens another and waits until it is alive: its pictures follow one another.</summary>
    internal async Task<IPage> OpenAsync(int width = 1280, int height = 800)
    {
        if (_page is not null)
            await _page.CloseAsync();
        var page = _page = await _browser!.NewPageAsync(new() { ViewportSize = new() { Width = width, Height = height } });
        page.SetDefaultTimeout(30_000);
        Assertions.SetDefaultExpectTimeout(30_000);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                Complaints.Add(message.Text);
        };
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(Url, StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal))
                Complaints.Add("left the service: " + request.Url);
        };
        await page.GotoAsync(Url);
        await Assertions.Expect(page.Locator(".link")).ToContainTextAsync("live");
        await Assertions.Expect(page.Locator("#health")).ToBeHiddenAsync();
        await page.WaitForFunctionAsync("""
            () => {
              const number = document.querySelector('[data-picture]')?.dataset.picture;
              window.pictures = (window.pictures ?? new Set()).add(number);
              return window.pictures.size > 3;
            }
            """);
        return page;
    }

    /// <summary>Makes, once, proposals for inputs 1 (too hot), 2 and 4 (too quiet, open) and 3 (too hot), over HTTP.</summary>
    internal Task ProposalsAsync() => _proposals.Value;

    internal static ILocator Row(IPage page, int input) => page.Locator(string.Create(CultureInfo.InvariantCulture, $".row:has(canvas[data-input='{input}'])"));

    internal static async Task HoldAsync(IPage page, ILocator control, int milliseconds)
    {
        await control.HoverAsync();
        await page.Mouse.DownAsync();
        await page.WaitForTimeoutAsync(milliseconds);
        await page.Mouse.UpAsync();
    }

    /// <summary>Begins a gesture and ends it after 200 ms, both by the browser's own clock: a busy machine must not make it longer.</summary>
    internal static Task TouchAsync(ILocator control) => control.EvaluateAsync(
        """
        button => new Promise(done => {
          const options = { bubbles: true, isPrimary: true };
          button.dispatchEvent(new PointerEvent('pointerdown', options));
          setTimeout(() => done(button.dispatchEvent(new PointerEvent('pointerup', options))), 200);
        })
        """);

    /// <summary>Strikes a key on the control once, likewise.</summary>
    internal static Task StrikeAsync(ILocator control, string key) => control.EvaluateAsync(
        """
        (button, key) => new Promise(done => {
          button.dispatchEvent(new KeyboardEvent('keydown', { bubbles: true, key }));
          setTimeout(() => done(button.dispatchEvent(new KeyboardEvent('keyup', { bubbles: true, key }))), 200);
        })
        """,
        key);

    /// <summary>Asserts that the page as it stands breaks no rule of WCAG 2.2 AA that axe can see.</summary>
    internal static async Task AssertAccessibleAsync(IPage page)
    {
        var result = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = [.. Rules] } });
        Assert.Empty(result.Violations.Select(one => $"{one.Id}: {one.Help}: {string.Join(" | ", one.Nodes.Select(node => node.Html))}"));
    }

    internal static Task EventuallyAsync(Func<Task<bool>> holds, int seconds, Func<string> otherwise) =>
        TheProgram.EventuallyAsync(holds, TimeSpan.FromSeconds(seconds), otherwise);

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
        await StopServiceAsync();
        await Desk.DisposeAsync();
        Http?.Dispose();
        _folder.Delete(recursive: true);
    }

    internal async Task<JsonNode?> GetAsync(string path)
    {
        try
        {
            return await Http.GetFromJsonAsync<JsonNode>(path);
        }
        catch (HttpRequestException)
        {
            return null;
        }
    }

    internal async Task<JsonNode> PostAsync(string path, string body)
    {
        using var answer = await Http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }

    private async Task MakeProposalsAsync()
    {
        var check = await PostAsync("desks/bench/checks", """{"inputs":[1,2,3,4]}""");
        foreach (var (input, peak) in new[] { (1, -6.0), (2, -40.0), (3, -5.0), (4, -38.0) })
            Desk.Play(input, peak);
        JsonNode? heard = null;
        await EventuallyAsync(
            async () => (heard = await GetAsync($"checks/{check["id"]}"))?["results"]?.AsArray().All(one => one!["withheld"] is null) is true, 60, () => $"not enough heard: {heard}");
        for (var input = 1; input <= 4; input++)
            Desk.Rest(input);
        var finished = await PostAsync($"checks/{check["id"]}/finish", "{}");
        Assert.Equal(4, finished["proposals"]!.AsArray().Count);
    }
}
