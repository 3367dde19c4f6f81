using System.CommandLine;
using TrimAssist.Core.Alarms;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Replay;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist replay FILE</c>: plays a recorded link through the whole service. There is no desk behind it and nothing to confirm.</summary>
internal static class ReplayCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "A link recording, as made by serve --record." };
        var speed = new Option<double>("--speed") { Description = "How many times faster than it was recorded.", DefaultValueFactory = _ => 1 };
        var stay = new Option<bool>("--stay") { Description = "Go on serving the page when the recording is over." };
        var urls = new Option<string>("--urls") { Description = "Where to serve the page.", DefaultValueFactory = _ => ServeOptions.DefaultUrl };
        var command = new Command("replay", "Plays a recorded link through the whole service, watched from its beginning to its end.") { file, speed, stay, urls };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(() => RunAsync(
            parsed.GetRequiredValue(file), parsed.GetValue(speed), parsed.GetValue(stay), parsed.GetRequiredValue(urls), Console.Out, cancellationToken)));
        return command;
    }

    internal static async Task<int> RunAsync(string file, double speed, bool stay, string urls, TextWriter output, CancellationToken cancellationToken)
    {
        if (!(speed > 0) || !double.IsFinite(speed))
            throw new UsageException("The speed must be more than 0: 1 is as it was recorded, 10 ten times faster.");
        using var recording = Open(file);
        var clock = new SteppedTime(recording.Began);
        var desks = recording.Desks.ToDictionary(desk => desk.Id, _ => new ReplaySocket(), StringComparer.Ordinal);
        var data = Directory.CreateTempSubdirectory("trimassist-replay-");
        try
        {
            var options = new ServeOptions { Profiles = [], DataFolder = data.FullName, Urls = urls, Time = clock, Replayed = id => desks.GetValueOrDefault(id) };
            await using var service = await RunningService.StartAsync(options, recording.Desks, cancellationToken);
            await Console.Error.WriteLineAsync($"The page is at {string.Join(" and ", service.Urls)} while the recording plays.");
            var hosts = service.Services.GetRequiredService<DeskHosts>().All;
            foreach (var host in hosts)
                await host.WatchAsync(on: true);
            var conductor = new ReplayConductor(recording, desks, clock, TimeProvider.System, speed);
            await conductor.PlayAsync(cancellationToken);
            await SumUpAsync(conductor, recording, hosts, output);
            if (stay)
                await service.WaitAsync(cancellationToken);
            return CommandRunner.Done;
        }
        finally
        {
            data.Delete(recursive: true);
        }
    }

    private static LinkRecording Open(string file)
    {
        try
        {
            return LinkRecording.Open(new StreamReader(file), Path.GetFileName(file), out var fault) ?? throw new UsageException(fault!);
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"{file} cannot be read: {failed.Message}");
        }
    }

    private static async Task SumUpAsync(ReplayConductor conductor, LinkRecording recording, IReadOnlyList<DeskHost> hosts, TextWriter output)
    {
        await output.WriteLineAsync($"played        {conductor.PlayedS:0.0} s, {conductor.Played} packets, {recording.BadLines} lines that could not be read");
        foreach (var host in hosts)
        {
            var desk = await host.DescribeAsync();
            var alarms = await host.AskAsync(assistant => assistant.Alarms.All.Where(alarm => alarm.State != AlarmState.Withdrawn).ToList());
            await output.WriteLineAsync($"desk          {desk.Id}: {desk.FramesHeard} frames heard, {desk.FramesLost} lost, {desk.DatagramsMalformed} packets not usable");
            foreach (var kind in alarms.GroupBy(alarm => alarm.Kind).OrderBy(kind => kind.Key))
                await output.WriteLineAsync($"alarms        {kind.Key}: {kind.Count()} on input {string.Join(", ", kind.Select(alarm => alarm.Input).Distinct().Order())}");
        }
    }
}
