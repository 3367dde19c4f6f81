using System.Diagnostics;
using System.Runtime.CompilerServices;
using TrimAssist.Core.Alarms;
using TrimAssist.DemoDesk;
using TrimAssist.DemoDesk.Festival;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Demo;

namespace TrimAssist.Benchmarks;

/// <summary>
/// Act after act in one process, as fast as it goes: the service's time is moved on by hand, its sockets, journal, HTTP and event stream
/// are real. Checks, proposals, confirmations, shows and alarms, over and over; what the process holds is written down on the way.
/// </summary>
internal static class Soak
{
    /// <summary>Frames sent before both sides meet again.</summary>
    private const int FramesAtOnce = 8;

    private static readonly TimeSpan SampleEvery = TimeSpan.FromSeconds(2);

    /// <summary>Runs for a time of this machine and writes one CSV row a sample.</summary>
    public static async Task<int> RunAsync(TimeSpan length, string file)
    {
        var clock = new SteppedTime(TimeProvider.System.GetUtcNow());
        await using var session = await DemoSession.StartAsync([], "http://127.0.0.1:0", clock, CancellationToken.None);
        using var http = new HttpClient { BaseAddress = new Uri(session.Service.Urls[0]) };
        var events = new StrongBox<long>();
        using var listening = new CancellationTokenSource();
        var listener = FollowEventsAsync(http, events, listening.Token);
        var client = new DemoClient(http);
        var manager = new StageManager(client, TextWriter.Null);
        await using var rows = new StreamWriter(file);
        await rows.WriteLineAsync("wall_s,simulated_s,resident_mib,heap_mib,handles,threads,journal_kib,acts,proposals,alarms,verified,frames_lost,events");
        var (began, sampled) = (TimeProvider.System.GetTimestamp(), TimeSpan.Zero);
        var (acts, act, verified) = (0, session.Desk.Moment.Act, 0);
        while (TimeProvider.System.GetElapsedTime(began) is var wall && wall < length)
        {
            if (await manager.FollowAsync(session.Desk.Moment, CancellationToken.None) && session.Desk.Moment.Phase == FestivalPhase.Ready)
                verified += await ConfirmAllAsync(session, client);
            if (session.Desk.Moment.Act != act)
                (act, acts) = (session.Desk.Moment.Act, acts + 1);
            for (var frame = 0; frame < FramesAtOnce; frame++)
            {
                session.Desk.Step();
                clock.Advance(BuiltInDesk.StepLength);
            }

            await CatchUpAsync(session, client);
            if (wall - sampled < SampleEvery)
                continue;
            sampled = wall;
            await rows.WriteLineAsync(await SampleAsync(wall, clock, session, client, acts, verified, events.Value));
            await rows.FlushAsync();
        }

        await listening.CancelAsync();
        await listener;
        return 0;
    }

    private static async Task FollowEventsAsync(HttpClient http, StrongBox<long> events, CancellationToken cancellationToken)
    {
        try
        {
            await using var stream = await http.GetStreamAsync("api/events", cancellationToken);
            using var reader = new StreamReader(stream);
            while (await reader.ReadLineAsync(cancellationToken) is { } line)
                events.Value += line.StartsWith("event:", StringComparison.Ordinal) ? 1 : 0;
        }
        catch (OperationCanceledException)
        {
            // The end.
        }
    }

    // Time stands still until the service has heard what was sent.
    private static async Task CatchUpAsync(DemoSession session, DemoClient client)
    {
        while (true)
        {
            session.Desk.Answer();
            var desk = await client.DeskAsync(CancellationToken.None);
            if (desk.FramesHeard + desk.FramesLost + FramesAtOnce >= session.Desk.Frames)
                return;
        }
    }

    private static async Task<int> ConfirmAllAsync(DemoSession session, DemoClient client)
    {
        var verified = 0;
        foreach (var proposal in await client.ProposalsAsync("?state=open", CancellationToken.None))
        {
            var confirming = client.ConfirmAsync(proposal, CancellationToken.None);
            while (!confirming.IsCompleted)
            {
                session.Desk.Answer();
                await Task.Yield();
            }

            verified += confirming.IsCompletedSuccessfully ? 1 : 0;
        }

        return verified;
    }

    private static async Task<string> SampleAsync(TimeSpan wall, SteppedTime clock, DemoSession session, DemoClient client, int acts, int verified, long events)
    {
        using var process = Process.GetCurrentProcess();
        var desk = await client.DeskAsync(CancellationToken.None);
        var proposals = await client.ProposalsAsync("", CancellationToken.None);
        var alarms = await client.AlarmsAsync(CancellationToken.None);
        var journal = new DirectoryInfo(session.DataFolder).EnumerateFiles().Sum(one => one.Length);
        var simulated = clock.GetTimestamp() / (double)clock.TimestampFrequency;
        return FormattableString.Invariant(
            $"{wall.TotalSeconds:0},{simulated:0},{process.WorkingSet64 / 1048576.0:0.0},{GC.GetTotalMemory(false) / 1048576.0:0.0},{Handles()},{process.Threads.Count},{journal / 1024},{acts},{proposals.Count},{alarms.Count(one => one.State != AlarmState.Withdrawn)},{verified},{desk.FramesLost},{events}");
    }

    private static int Handles() => Directory.Exists("/proc/self/fd") ? Directory.GetFiles("/proc/self/fd").Length : 0;
}
