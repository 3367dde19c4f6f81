using System.CommandLine;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Demo;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist demo</c>: the service against the built-in desk and its invented festival.</summary>
internal static class DemoCommand
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(200);

    public static Command Create()
    {
        var urls = new Option<string>("--urls") { Description = "Where to serve the page.", DefaultValueFactory = _ => ServeOptions.DefaultUrl };
        var act = new Option<string?>("--act") { Description = "An input list (CSV) for the first act: roles, players, targets." };
        var fast = new Option<bool>("--fast") { Description = "Run all three acts without waiting, confirmed by a scripted engineer, and sum up." };
        var command = new Command("demo", "Plays an invented festival on a built-in desk: try everything without a desk.") { act, urls, fast };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(() => parsed.GetValue(fast)
            ? FastAsync(Lists(parsed.GetValue(act)), cancellationToken)
            : LiveAsync(Lists(parsed.GetValue(act)), parsed.GetRequiredValue(urls), cancellationToken)));
        return command;
    }

    private static async Task<int> LiveAsync(IReadOnlyList<string> acts, string urls, CancellationToken cancellationToken)
    {
        if (!ListenUrls.Read(urls).All(url => url.IsLoopback))
            throw new UsageException("The demo is served on loopback only; serve takes other addresses and credentials.");
        await using var session = await DemoSession.StartAsync(acts, urls, TimeProvider.System, cancellationToken);
        await Console.Error.WriteLineAsync($"The page is at {session.Service.Urls[0]} - open it, wait for the first check to end, hold a control that says Hold to set. Stop with Ctrl+C.");
        using var http = Client(session);
        var manager = new StageManager(new DemoClient(http), Console.Error);
        using var stopping = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var desk = session.Desk.RunAsync(TimeProvider.System, stopping.Token);
        using var timer = new PeriodicTimer(LookEvery, TimeProvider.System);
        var stopped = session.Service.WaitAsync(cancellationToken);
        while (!stopped.IsCompleted && await timer.WaitForNextTickAsync(cancellationToken))
            await manager.FollowAsync(session.Desk.Moment, cancellationToken);
        await stopping.CancelAsync();
        await desk;
        return CommandRunner.Done;
    }

    private static async Task<int> FastAsync(IReadOnlyList<string> acts, CancellationToken cancellationToken)
    {
        var clock = new SteppedTime(TimeProvider.System.GetUtcNow());
        await using var session = await DemoSession.StartAsync(acts, "http://127.0.0.1:0", clock, cancellationToken);
        using var http = Client(session);
        var client = new DemoClient(http);
        var summary = await new FastRun(session, clock, client, new StageManager(client, Console.Error), session.Desk.Acts).RunAsync(cancellationToken);
        Console.WriteLine($"acts            {summary.Acts}");
        Console.WriteLine($"inputs          {summary.Inputs}");
        Console.WriteLine($"proposals       {summary.Proposals}");
        Console.WriteLine($"confirmed       {summary.Confirmed}");
        Console.WriteLine($"verified        {summary.Verified}");
        Console.WriteLine($"shows clipped   {summary.ShowsClipped}");
        Console.WriteLine($"pops found      {summary.PopsFound} of {summary.Pops}");
        Console.WriteLine($"false pops      {summary.FalsePops}");
        return summary.Verified == summary.Confirmed ? CommandRunner.Done : CommandRunner.Failed;
    }

    private static string[] Lists(string? act) => act is null ? [] : [act];

    private static HttpClient Client(DemoSession session) => new() { BaseAddress = new Uri(session.Service.Urls[0]) };
}
