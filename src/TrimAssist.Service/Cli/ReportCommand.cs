using System.CommandLine;
using TrimAssist.Journal;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Report;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist report --data DIR --act NAME</c>: the gain sheet of an act, from a stopped or a running service's journal.</summary>
internal static class ReportCommand
{
    public static Command Create()
    {
        var data = new Option<string>("--data") { Description = "Where the journal lives.", DefaultValueFactory = _ => ServeOptions.DefaultDataFolder };
        var act = new Option<string>("--act") { Description = "The act's name.", Required = true };
        var format = new Option<string>("--format") { Description = "html (one page to print), csv or json.", DefaultValueFactory = _ => "html" };
        format.AcceptOnlyFromAmong("html", "csv", "json");
        var command = new Command("report", "Prints the gain sheet of an act.") { data, act, format };
        command.SetAction(parsed => CommandRunner.RunAsync(() => RunAsync(parsed.GetRequiredValue(data), parsed.GetRequiredValue(act), parsed.GetRequiredValue(format))));
        return command;
    }

    private static async Task<int> RunAsync(string data, string act, string format)
    {
        var sheet = Read(data, act);
        await Console.Out.WriteLineAsync((format switch
        {
            "csv" => GainSheetFormats.ToCsv(sheet),
            "json" => GainSheetFormats.ToJson(sheet),
            _ => await GainSheetFormats.ToHtmlAsync(sheet),
        }).TrimEnd());
        return CommandRunner.Done;
    }

    private static GainSheet Read(string data, string act)
    {
        try
        {
            var journal = new SqliteJournalReader(data);
            if (journal.LastPosition == 0)
                throw new WorkFailedException($"There is no journal in {data}.");
            var lines = new LineReader(journal);
            var sheet = GainSheetReader.Read(lines, act) ?? throw new WorkFailedException(
                $"No act \"{act}\" came on. Known are: {string.Join(", ", GainSheetReader.Acts(lines).DefaultIfEmpty("none"))}.");
            if (lines.Complaint is { } complaint)
                Console.Error.WriteLine(complaint);
            return sheet;
        }
        catch (JournalOpenException failed)
        {
            throw new WorkFailedException(failed.Message);
        }
    }
}
