using System.CommandLine;
using TrimAssist.Service.Cli;

var root = new RootCommand("TrimAssist listens to a digital desk, proposes trims and warns. It changes nothing that was not confirmed.")
{
    DemoCommand.Create(),
    ServeCommand.Create(),
    MeasureCommand.Create(),
    ChainCommand.Create(),
    ReportCommand.Create(),
    ForgetPlayerCommand.Create(),
    CheckProfileCommand.Create(),
    DoctorCommand.Create(),
    ListenCommand.Create(),
    ReplayCommand.Create(),
    JournalCommand.Create(),
};

var parsed = root.Parse(args);
if (parsed.Errors.Count > 0)
{
    foreach (var error in parsed.Errors)
        await Console.Error.WriteLineAsync(error.Message);
    await Console.Error.WriteLineAsync("Use --help to see what there is.");
    return CommandRunner.BadUsage;
}

return await parsed.InvokeAsync();
