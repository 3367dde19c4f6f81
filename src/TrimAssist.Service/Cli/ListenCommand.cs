using System.CommandLine;
using System.Net;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Listen;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist listen --port N</c>: shows what a desk sends and drafts a profile from it. Sends nothing to anybody.</summary>
internal static class ListenCommand
{
    private static readonly TimeSpan DraftEvery = TimeSpan.FromSeconds(2);

    public static Command Create()
    {
        var port = new Option<int>("--port") { Description = "The UDP port that the desk sends to.", Required = true };
        var draft = new Option<string?>("--draft-profile") { Description = "A file to write a draft of a profile into, every two seconds and at the end. What stands there is replaced." };
        var seconds = new Option<double?>("--for") { Description = "Stop after so many seconds; without it, at Ctrl+C." };
        var command = new Command("listen", "Shows what a desk sends, with rates and ranges, and drafts a profile from it. Sends nothing.") { port, draft, seconds };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(() => RunAsync(
            parsed.GetValue(port), parsed.GetValue(draft), parsed.GetValue(seconds), TimeProvider.System, Console.Out, Console.Error, cancellationToken)));
        return command;
    }

    internal static async Task<int> RunAsync(
        int port, string? draft, double? seconds, TimeProvider time, TextWriter output, TextWriter progress, CancellationToken cancellationToken)
    {
        if (port is < 1 or > 65535)
            throw new UsageException("A port is a number from 1 to 65535.");
        if (seconds is not null and not > 0)
            throw new UsageException("Say more than 0 seconds.");
        using var run = new ListenRun(IPAddress.Any, port, time);
        await progress.WriteLineAsync($"Listening on UDP port {port}; nothing is sent. Stop with Ctrl+C.");
        var began = time.GetTimestamp();
        var drafted = began;
        var known = 0;
        while (!cancellationToken.IsCancellationRequested && !(time.GetElapsedTime(began).TotalSeconds >= seconds))
        {
            run.Hear();
            if (time.GetElapsedTime(drafted) < DraftEvery)
                continue;
            drafted = time.GetTimestamp();
            if (draft is not null && run.Survey.Packets > 0)
                await File.WriteAllTextAsync(draft, ProfileDraft.Write(run.Survey, port), CancellationToken.None);
            var now = run.Survey.Tallies.Count();
            if (now != known)
                await progress.WriteLineAsync($"{run.Survey.Packets} packets, {now} addresses");
            known = now;
        }

        if (run.Survey.Packets == 0)
            throw new WorkFailedException($"Nothing was heard on port {port}. Many desks send only once they are asked to; see docs/connecting.md.");
        SurveyTable.Write(run.Survey, output);
        if (draft is not null)
        {
            await File.WriteAllTextAsync(draft, ProfileDraft.Write(run.Survey, port), CancellationToken.None);
            await progress.WriteLineAsync($"The draft is in {draft}.");
        }

        return CommandRunner.Done;
    }
}
