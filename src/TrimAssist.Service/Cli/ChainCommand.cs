using System.CommandLine;
using System.Text.Json;
using TrimAssist.Core.Chain;
using TrimAssist.Service.ChainFiles;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist chain FILE</c>: works out the best gain at every stage of a signal chain.</summary>
public static class ChainCommand
{
    /// <summary>The command; a wrong file is told with line, column and key and exit code 2, limits that collide with exit code 1.</summary>
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "The chain (TOML)." };
        var json = new Option<bool>("--json") { Description = "Print one JSON document instead of a table." };
        var compare = new Option<bool>("--compare-order") { Description = "Also plan the chain with each two neighbours swapped." };
        var command = new Command("chain", "Work out the best gain at every stage of a signal chain.") { file, json, compare };
        command.SetAction(parsed => Run(
            parsed.GetRequiredValue(file), parsed.GetValue(json), parsed.GetValue(compare), parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error));
        return command;
    }

    internal static int Run(string path, bool asJson, bool compareOrder, TextWriter output, TextWriter errors)
    {
        var file = ChainFileReader.ReadFile(path);
        foreach (var error in file.Errors)
            errors.WriteLine(error);
        if (file.Chain is not { } chain)
            return CommandRunner.BadUsage;

        var answer = ChainPlanner.Plan(chain);
        var orders = compareOrder || file.CompareOrder ? SwappedOrder.AllOf(chain) : null;
        var document = ChainDocument.Of(path, file, answer, orders);
        output.WriteLine(asJson ? JsonSerializer.Serialize(document, ChainJson.Default.ChainDocument) : ChainTable.Of(document).TrimEnd());
        if (answer is not ChainInfeasible infeasible)
            return CommandRunner.Done;
        errors.WriteLine($"{path}: no setting fits. {infeasible.Collision.Text}");
        return CommandRunner.Failed;
    }
}
