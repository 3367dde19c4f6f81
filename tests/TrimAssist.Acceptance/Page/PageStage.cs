using System.Globalization;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using TrimAssist.Acceptance.Running;
using TrimAssist.Core.Assist;
using TrimAssist.Service.Hosting;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>The whole service against a bench desk on the wire, with a real browser before it.</summary>
/// <remarks>Service and desk live on a clock that a test may hurry while it waits for playing; the browser's clock is always the real one.</remarks>
internal sealed class PageStage(TheBrowser browser, int inputs = 24) : IAsyncDisposable
{
    /// <summary>Longer than a gesture must be held.</summary>
    public const int LongEnough = 900;

    private const double Hurried = 5;

    // What was proposed upon a bang lives for seconds: half as fast they are enough for a busy machine.
    private const double Unhurried = .5;
    private const int Patience = 12;

    // What is said of a bang first may be taken back within half a second.
    private const int TakenBackMs = 800;
    private const int BetweenContactsMs = 300;
    private static readonly string[] Rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    private readonly HurriedTime _time = new();
    private readonly int _port = FreePort.Find(ProtocolType.Tcp);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-page-");
    private readonly List<IBrowserContext> _contexts = [];
    private readonly List<NetworkCable> _cables = [];
    private BenchDesk? _desk;
    private RunningService? _service;
    private TheProgram? _program;
    private HttpClient? _http;

    /// <summary>How the rehearsal room works; <see langword="null"/> where it is none.</summary>
    public RehearsalOptions? Room { get; init; }

    public BenchDesk Desk => _desk ??= new(inputs, named: 6, clock: _time);

    public string Url => string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{_port}/");

    /// <summary>What the browsers' consoles complained of, and requests that left the service.</summary>
    public List<string> Complaints { get; } = [];

    private HttpClient Http => _http ??= new HttpClient { BaseAddress = new Uri(Url + "api/") };

    /// <summary>Starts the service inside the test's process: quick, and on the test's clock.</summary>
    /// <param name="untilLive">Whether to wait for the desk; not where it never answers.</param>
    public async Task StartAsync(bool untilLive = true)
    {
        TheBrowser.Needed();
        _service = await RunningService.StartAsync(
            new ServeOptions { Profiles = [Desk.WriteProfile(_folder.FullName)], DataFolder = _folder.FullName, Urls = Url.TrimEnd('/'), Time = _time, Room = Room },
            TestContext.Current.CancellationToken);
        if (untilLive)
            await LiveAsync(() => "the desk never became live");
    }

    /// <summary>Starts the program as a process of its own, which <see cref="PullPowerAsync"/> can end without a word.</summary>
    public async Task StartProgramAsync()
    {
        TheBrowser.Needed();
        _program = TheProgram.TrimAssist("serve", "--desk", Desk.WriteProfile(_folder.FullName), "--data", _folder.FullName, "--urls", Url.TrimEnd('/'));
        await LiveAsync(() => string.Join('\n', _program.Errors));
    }

    /// <summary>Ends the program as a pulled mains lead would.</summary>
    public async Task PullPowerAsync()
    {
        await _program!.DisposeAsync();
        _program = null;
    }

    /// <summary>Opens a page in a browser context of its own and waits until it is alive.</summary>
    public async Task<IPage> OpenAsync(string path = "", int width = 1280, int height = 800, string locale = "en-GB")
    {
        var page = await BlankAsync(width, height, locale);
        await page.GotoAsync(Url + path);
        await AliveAsync(page);
        return page;
    }

    /// <summary>A page that shows nothing yet, in a browser context of its own.</summary>
    public async Task<IPage> BlankAsync(int width = 1280, int height = 800, string locale = "en-GB")
    {
        var context = await browser.ContextAsync(width, height, locale);
        _contexts.Add(context);
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(30_000);
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
        return page;
    }

    /// <summary>A cable to the service, to be pulled and plugged in again.</summary>
    public NetworkCable Cable()
    {
        var cable = new NetworkCable(_port);
        _cables.Add(cable);
        return cable;
    }

    /// <summary>Opens the form at which a device types its code.</summary>
    public async Task<IPage> OpenPairingAsync()
    {
        var context = await browser.ContextAsync(390, 844, "en-GB");
        _contexts.Add(context);
        var page = await context.NewPageAsync();
        await page.GotoAsync(Url + "pair");
        return page;
    }

    /// <summary>Waits until the page says that it may be acted upon.</summary>
    public static Task AliveAsync(IPage page) => Assertions.Expect(page.Locator("html")).Not.ToHaveAttributeAsync("data-off", "", new() { Timeout = 60_000 });

    /// <summary>Makes proposals for inputs 1 (too hot), 2 and 4 (too quiet, open: a danger) and 3 (too hot), over HTTP.</summary>
    public async Task ProposalsAsync()
    {
        var check = await PostAsync("desks/bench/checks", """{"inputs":[1,2,3,4]}""");
        foreach (var (input, peak) in new[] { (1, -6.0), (2, -40.0), (3, -5.0), (4, -38.0) })
            Desk.Play(input, peak);
        JsonNode? heard = null;
        _time.Pace = Hurried;
        await EventuallyAsync(
            async () => (heard = await GetAsync($"checks/{check["id"]}"))?["results"]?.AsArray().All(one => one!["withheld"] is null) is true, 60, () => $"not enough heard: {heard}");
        for (var input = 1; input <= 4; input++)
            Desk.Rest(input);
        var finished = await PostAsync($"checks/{check["id"]}/finish", "{}");
        _time.Pace = 1;
        Assert.Equal(4, finished["proposals"]!.AsArray().Count);
    }

    /// <summary>Lets so many seconds pass for service and desk, five times as fast as they would.</summary>
    public async Task PassAsync(double seconds)
    {
        _time.Pace = Hurried;
        await Task.Delay(TimeSpan.FromSeconds(seconds), _time, TestContext.Current.CancellationToken);
        _time.Pace = 1;
    }

    /// <summary>Pulls a plug until the page shows what it should: on a busy machine the frames of one bang may arrive at once, and are taken for nothing.</summary>
    public Task PullPlugAsync(int input, ILocator shown) => PullPlugsAsync(shown, input);

    /// <summary>Pulls several plugs, likewise: one contact after another, as they part. The same bang in the same frame on several inputs is taken for players who start together.</summary>
    public async Task PullPlugsAsync(ILocator shown, params int[] inputs)
    {
        await PassAsync(4);
        for (var pull = 1; ; pull++)
        {
            foreach (var (index, input) in inputs.Index())
            {
                if (index > 0)
                    await shown.Page.WaitForTimeoutAsync(BetweenContactsMs);
                Desk.PullPlug(input);
            }

            try
            {
                await Assertions.Expect(shown).ToBeVisibleAsync(new() { Timeout = 4000 });
                await shown.Page.WaitForTimeoutAsync(TakenBackMs);
                if (await shown.IsVisibleAsync())
                {
                    _time.Pace = Unhurried;
                    return;
                }
            }
            catch (PlaywrightException) when (pull < 6)
            {
                // Once more.
            }

            await PassAsync(4);
        }
    }

    public static ILocator Row(IPage page, int input) => page.Locator(string.Create(CultureInfo.InvariantCulture, $".row:has(canvas[data-input='{input}'])"));

    /// <summary>Lets service and desk live faster, or at the real pace of 1.</summary>
    public void SetPace(double pace) => _time.Pace = pace;

    /// <summary>Presses a mute twice, once it has been looked at for a second.</summary>
    public static async Task PressTwiceAsync(IPage page, ILocator mute)
    {
        await Assertions.Expect(mute).ToBeVisibleAsync();
        await page.WaitForTimeoutAsync(1100);
        await mute.ClickAsync();
        await page.WaitForTimeoutAsync(500);
        await mute.ClickAsync();
    }

    /// <summary>Holds a control until it has sent what it stands for: through the gesture that a danger asks for, and again where the page let go.</summary>
    public static async Task ConfirmAsync(IPage page, ILocator control)
    {
        for (var gesture = 1; await control.CountAsync() > 0 && await HoldAsync(page, control) != "sent"; gesture++)
            Assert.True(gesture < Patience, "the page let go of every gesture");
    }

    /// <summary>Holds a control once, with the mouse.</summary>
    /// <returns>What the page made of it: <c>sent</c>, <c>armed</c> or <c>let go</c>.</returns>
    public static Task<string> HoldAsync(IPage page, ILocator control) => HoldAsync(page, control, one => one.HoverAsync(), () => page.Mouse.DownAsync(), () => page.Mouse.UpAsync());

    /// <summary>Holds a key on a control that has the focus, until the control has sent what it stands for.</summary>
    public static async Task HoldKeyAsync(IPage page, ILocator control, string key)
    {
        for (var gesture = 1; await HoldAsync(page, control, _ => Task.CompletedTask, () => page.Keyboard.DownAsync(key), () => page.Keyboard.UpAsync(key)) != "sent"; gesture++)
            Assert.True(gesture < Patience, "the page let go of every gesture");
    }

    // On a busy machine meters pause, and a page whose meters pause lets go of what is held: a person would hold again, and so does the test.
    private static async Task<string> HoldAsync(IPage page, ILocator control, Func<ILocator, Task> reach, Func<Task> begin, Func<Task> end)
    {
        // What has just come, changed or moved asks for a second look, and shows that it does.
        await Assertions.Expect(control).Not.ToHaveAttributeAsync("data-fresh", "");
        await Assertions.Expect(control).ToBeEnabledAsync();
        await reach(control);
        await control.EvaluateAsync("""
            button => {
              window.gesture = new Promise(done => {
                const look = () => {
                  if (button.dataset.busy) done('sent');
                  else if (button.classList.contains('armed') && !button.classList.contains('holding')) done('armed');
                };
                const seen = new MutationObserver(look);
                for (const name of ['pointerup', 'keyup']) addEventListener(name, () => { look(); seen.disconnect(); done('let go'); }, { once: true });
                seen.observe(button, { attributes: true });
              });
            }
            """);
        await begin();
        await page.WaitForTimeoutAsync(LongEnough);
        await end();
        return await page.EvaluateAsync<string>("window.gesture");
    }

    /// <summary>Begins a gesture and ends it after 200 ms, both by the browser's own clock: a busy machine must not make it longer.</summary>
    public static Task TouchAsync(ILocator control) => control.EvaluateAsync(
        """
        button => new Promise(done => {
          const options = { bubbles: true, isPrimary: true };
          button.dispatchEvent(new PointerEvent('pointerdown', options));
          setTimeout(() => done(button.dispatchEvent(new PointerEvent('pointerup', options))), 200);
        })
        """);

    /// <summary>Strikes a key on the control once, likewise.</summary>
    public static Task StrikeAsync(ILocator control, string key) => control.EvaluateAsync(
        """
        (button, key) => new Promise(done => {
          button.dispatchEvent(new KeyboardEvent('keydown', { bubbles: true, key }));
          setTimeout(() => done(button.dispatchEvent(new KeyboardEvent('keyup', { bubbles: true, key }))), 200);
        })
        """,
        key);

    /// <summary>Presses Tab until a control has the focus, and no more often than the page has controls.</summary>
    public static async Task TabToAsync(IPage page, string selector)
    {
        var goal = page.Locator(selector).First;
        for (var step = 0; step < 120; step++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await goal.EvaluateAsync<bool>("one => one === document.activeElement"))
                return;
        }

        Assert.Fail($"Tab never reached {selector}");
    }

    /// <summary>Asserts that the page as it stands breaks no rule of WCAG 2.2 AA that axe can see.</summary>
    public static async Task AssertAccessibleAsync(IPage page)
    {
        var result = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = [.. Rules] } });
        Assert.Empty(result.Violations.Select(one => $"{one.Id}: {one.Help}: {string.Join(" | ", one.Nodes.Select(node => node.Html))}"));
    }

    /// <summary>How many bytes a first view brought over the network, beside the framework's script.</summary>
    public static Task<double> WeightAsync(IPage page) => page.EvaluateAsync<double>("""
        [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]
          .filter(one => !one.name.includes('_framework/') && !one.name.includes('_blazor') && !one.name.includes('/api/'))
          .reduce((sum, one) => sum + one.encodedBodySize, 0)
        """);

    public static Task EventuallyAsync(Func<Task<bool>> holds, int seconds, Func<string> otherwise) =>
        TheProgram.EventuallyAsync(holds, TimeSpan.FromSeconds(seconds), otherwise);

    public async Task<JsonNode?> GetAsync(string path)
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

    public async Task<JsonNode> PostAsync(string path, string body)
    {
        using var answer = await Http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var context in _contexts)
            await context.DisposeAsync();
        foreach (var cable in _cables)
            await cable.DisposeAsync();
        if (_service is not null)
            await _service.DisposeAsync();
        if (_program is not null)
            await _program.DisposeAsync();
        _desk?.Dispose();
        _http?.Dispose();
        _folder.Delete(recursive: true);
    }

    /// <summary>Sends an act's input list.</summary>
    public async Task PostListAsync(string act, string list)
    {
        using var answer = await Http.PostAsync($"desks/bench/acts?name={Uri.EscapeDataString(act)}", new StringContent(list, Encoding.UTF8, "text/csv"));
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }

    private Task LiveAsync(Func<string> otherwise) =>
        EventuallyAsync(async () => (await GetAsync("desks"))?[0]?["state"]?.GetValue<string>() == "live", 60, otherwise);
}
