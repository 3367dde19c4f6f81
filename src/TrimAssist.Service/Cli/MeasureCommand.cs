using System.CommandLine;
using System.Text.Json;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Measure;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist measure FILE…</c>: what recordings or meter logs say, offline.</summary>
internal static class MeasureCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create()
    {
        var files = new Argument<string[]>("FILE") { Description = "A WAV recording or a meter log (CSV).", Arity = ArgumentArity.OneOrMore };
        var json = new Option<bool>("--json") { Description = "Print JSON instead of a table: one document, or an array of them where several files are given." };
        var target = new Option<double>("--target") { Description = "Where the loudest show peak should land, in dBFS.", DefaultValueFactory = _ => -12 };
        var allowance = new Option<double>("--allowance") { Description = "The dB added for what players hold back (4 is common practice).", DefaultValueFactory = _ => 4 };
        var step = new Option<double>("--step") { Description = "Distance between the desk's trim settings in dB.", DefaultValueFactory = _ => 0.1 };
        var command = new Command("measure", "Measure recordings or meter logs and propose trims.") { files, json, target, allowance, step };
        command.SetAction(parsed => CommandRunner.RunAsync(() => RunAsync(
            parsed.GetRequiredValue(files),
            parsed.GetValue(json),
            new MeasureOptions(parsed.GetValue(target), parsed.GetValue(allowance), parsed.GetValue(step)))));
        return command;
    }

    private static async Task<int> RunAsync(string[] files, bool asJson, MeasureOptions options)
    {
        Check(options);
        var documents = files.Select(file => FileMeasurer.Measure(file, options)).ToList();
        if (!asJson)
        {
            foreach (var document in documents)
                await Console.Out.WriteAsync(MeasureTable.Of(document));
            return CommandRunner.Done;
        }

        var text = documents is [var only]
            ? JsonSerializer.Serialize(only, MeasureJson.Default.MeasureDocument)
            : JsonSerializer.Serialize(documents, MeasureJson.Default.IReadOnlyListMeasureDocument);
        await Console.Out.WriteLineAsync(text);
        return CommandRunner.Done;
    }

    private static void Check(MeasureOptions options)
    {
        if (!(options.TargetDbfs is <= 0 and >= -60))
            throw new UsageException("--target is a level in dBFS between -60 and 0");
        if (!(options.AllowanceDb is >= -20 and <= 40))
            throw new UsageException("--allowance is between -20 and 40 dB");
        if (!(options.StepDb is > 0 and <= 20))
            throw new UsageException("--step is above 0 and up to 20 dB");
    }
}
