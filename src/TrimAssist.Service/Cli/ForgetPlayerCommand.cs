using System.CommandLine;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist forget-player NAME --data DIR</c>: takes a player out of a stopped service's journal for good.</summary>
internal static class ForgetPlayerCommand
{
    public static Command Create()
    {
        var name = new Argument<string>("NAME") { Description = "The player's name, as the input lists have it." };
        var data = new Option<string>("--data") { Description = "Where the journal lives.", DefaultValueFactory = _ => ServeOptions.DefaultDataFolder };
        var command = new Command("forget-player", "Erases a player from the journal of a stopped service. No copy is kept; your own backups are yours to clear.") { name, data };
        command.SetAction(parsed => CommandRunner.RunAsync(async () =>
        {
            try
            {
                var (erased, unread) = PlayerErasure.Erase(parsed.GetRequiredValue(data), parsed.GetRequiredValue(name));
                await Console.Out.WriteLineAsync($"{erased} entries erased");
                if (unread > 0)
                    await Console.Error.WriteLineAsync($"{unread} more cannot be read and do not have the name in their text: they stay. See: trimassist journal check");
                return CommandRunner.Done;
            }
            catch (JournalOpenException refused)
            {
                throw new WorkFailedException(refused.Message);
            }
        }));
        return command;
    }
}
