using System.CommandLine;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist serve</c>: runs the service for one desk or several.</summary>
internal static class ServeCommand
{
    public static Command Create()
    {
        var desks = new Option<string[]>("--desk")
        {
            Description = "A desk profile (TOML); may be given several times.",
            Required = true,
            Arity = ArgumentArity.OneOrMore,
        };
        var acts = new Option<string[]>("--act") { Description = "An act's input list (CSV); several in running order. The first act is on.", Arity = ArgumentArity.OneOrMore };
        var data = new Option<string>("--data") { Description = "Where the journal lives.", DefaultValueFactory = _ => ServeOptions.DefaultDataFolder };
        var urls = new Option<string>("--urls") { Description = "Where to serve the page.", DefaultValueFactory = _ => ServeOptions.DefaultUrl };
        var record = new Option<string?>("--record") { Description = "A new file that the raw link of every desk is recorded into, for replay." };
        var command = new Command("serve", "Listens to desks, proposes and warns, and serves the page.") { desks, acts, data, urls, record };
        command.SetAction((parsed, cancellationToken) => CommandRunner.RunAsync(async () =>
        {
            await using var running = await RunningService.StartAsync(
                new ServeOptions
                {
                    Profiles = parsed.GetRequiredValue(desks),
                    InputLists = parsed.GetValue(acts) ?? [],
                    DataFolder = parsed.GetRequiredValue(data),
                    Urls = parsed.GetRequiredValue(urls),
                    RecordFile = parsed.GetValue(record),
                },
                cancellationToken);
            await Console.Error.WriteLineAsync($"The page is at {string.Join(" and ", running.Urls)} - stop with Ctrl+C.");
            await running.WaitAsync(cancellationToken);
            return CommandRunner.Done;
        }));
        return command;
    }
}
