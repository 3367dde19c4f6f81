using System.CommandLine;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist serve</c>: runs the service for one desk or several.</summary>
internal static class ServeCommand
{
    public static Command Create()
    {
        var desks = new Option<string[]>("--desk") { Description = "A desk profile (TOML); may be given several times." };
        var data = new Option<string?>("--data") { Description = "Where the journal lives." };
        var urls = new Option<string?>("--urls") { Description = $"Where to serve the page; {ServeOptions.DefaultUrl} unless told." };
        var config = new Option<string?>("--config") { Description = "A settings file (JSON): desks, data, urls. The environment's TRIMASSIST_DESKS, _DATA, _URLS go before it." };
        var record = new Option<string?>("--record") { Description = "A new file that the raw link of every desk is recorded into, for replay." };
        var command = new Command("serve", "Listens to desks, proposes and warns, and serves the page.") { desks, data, urls, config, record };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(async () =>
        {
            var said = new ServeSettings.Said(parsed.GetValue(config), parsed.GetValue(desks), parsed.GetValue(data), parsed.GetValue(urls));
            var options = ServeSettings.Read(said, Environment.GetEnvironmentVariable) with { RecordFile = parsed.GetValue(record) };
            await using var running = await RunningService.StartAsync(options, cancellationToken);
            await Console.Error.WriteLineAsync($"The page is at {string.Join(" and ", running.Urls)} - stop with Ctrl+C.");
            await running.WaitAsync(cancellationToken);
            return CommandRunner.Done;
        }));
        return command;
    }
}
