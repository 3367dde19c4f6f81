using System.CommandLine;
using System.Globalization;
using TrimAssist.Journal;
using TrimAssist.Service.Doctor;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist journal</c>: a check, a copy, an export as JSON lines, or a new beginning that keeps the old journal whole.</summary>
internal static class JournalCommand
{
    public static Command Create() => Create(Console.Out);

    /// <summary>Makes the command.</summary>
    /// <param name="output">Where a check is told.</param>
    internal static Command Create(TextWriter output)
    {
        var data = new Option<string>("--data") { Description = "Where the journal lives.", DefaultValueFactory = _ => ServeOptions.DefaultDataFolder, Recursive = true };
        return new Command("journal", "Checks, copies, exports or archives the journal.") { data, Check(data, output), Backup(data), Export(data), Archive(data) };
    }

    private static Command Check(Option<string> data, TextWriter output)
    {
        var command = new Command("check", "Says whether the journal is whole and names every line that cannot be read, also while the service runs. Changes nothing.");
        command.SetAction(parsed => CommandRunner.RunAsync(() => Done(() =>
        {
            var found = JournalReview.Of(Folder(parsed, data));
            foreach (var line in found.Damage.Concat(found.Unread.Select(line => line.ToString())))
                output.WriteLine(line);
            if (found.Damage.Count > 0)
                throw new WorkFailedException("The journal's file is damaged: start again from a backup or anew.");
            if (found.Unread.Count > 0)
                throw new WorkFailedException($"{found.Unread.Count} of {found.Lines} lines cannot be read: they are left out wherever the journal is read, and the rest is used.");
            return $"{found.Lines} lines, all of them whole{(found.UnknownKinds > 0 ? $"; {found.UnknownKinds} of kinds that only a later version reads" : "")}";
        })));
        return command;
    }

    private static Command Backup(Option<string> data)
    {
        var file = new Argument<string>("FILE") { Description = "The copy; must not exist." };
        var command = new Command("backup", "Writes a whole, consistent copy, also while the service runs.") { file };
        command.SetAction(parsed => CommandRunner.RunAsync(() => Done(() =>
        {
            new SqliteJournalReader(Folder(parsed, data)).BackUp(parsed.GetRequiredValue(file));
            return null;
        })));
        return command;
    }

    private static Command Export(Option<string> data)
    {
        var file = new Argument<string?>("FILE") { Description = "The file; must not exist. Absent: standard output.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("export", "Writes every entry as a line of JSON, also while the service runs.") { file };
        command.SetAction(parsed => CommandRunner.RunAsync(() => Done(() =>
        {
            var journal = new SqliteJournalReader(Folder(parsed, data));
            if (parsed.GetValue(file) is { } target)
                return $"{JournalExport.WriteFile(journal, target)} entries";
            using var output = Console.OpenStandardOutput();
            JournalExport.Write(journal, output);
            return null;
        })));
        return command;
    }

    private static Command Archive(Option<string> data)
    {
        var file = new Argument<string>("FILE") { Description = "Where the old journal is kept whole; must not exist." };
        var days = new Option<int>("--keep-days") { Description = "How many days live on in the new journal.", DefaultValueFactory = _ => 30 };
        var command = new Command("archive", "Ends the journal of a stopped service and begins the next with its last days.") { file, days };
        command.SetAction(parsed => CommandRunner.RunAsync(() => Done(() =>
        {
            if (parsed.GetValue(days) is not (>= 0 and <= 36_500) and var wrong)
                throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--keep-days is between 0 and 36500, not {wrong}"));
            var since = TimeProvider.System.GetUtcNow() - TimeSpan.FromDays(parsed.GetValue(days));
            return $"{JournalRetention.Renew(Folder(parsed, data), entry => entry.Fault is not null || entry.Fact.AtUtc >= since, parsed.GetRequiredValue(file))} entries live on";
        })));
        return command;
    }

    private static string Folder(ParseResult parsed, Option<string> data) =>
        parsed.GetRequiredValue(data) is var folder && Directory.Exists(folder) ? folder : throw new UsageException($"There is no folder {folder}.");

    private static async Task<int> Done(Func<string?> work)
    {
        try
        {
            if (work() is { } said)
                await Console.Error.WriteLineAsync(said);
            return CommandRunner.Done;
        }
        catch (JournalOpenException failed)
        {
            throw new WorkFailedException(failed.Message);
        }
    }
}
