using System.Text.Json;
using TrimAssist.Core.Alarms;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>docs/alarms.md says what the program does.</summary>
public sealed class AlarmDocumentTests
{
    public static TheoryData<AlarmKind> Kinds => [.. Enum.GetValues<AlarmKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_stands_in_the_document_with_its_rationale(AlarmKind kind)
    {
        var (rule, why) = (AlarmRule.Of(kind), AlarmRationale.Of(kind));
        Assert.Contains(
            $"| `{JsonNamingPolicy.KebabCaseLower.ConvertName(kind.ToString())}` | {rule.Priority.ToString().ToLowerInvariant()} | {why.Cause} | {why.Consequence} | {why.Action} | {why.TimeToAct} | {rule.OffDelay.TotalSeconds:0} s |",
            Document());
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_priority_follows_from_the_time_to_act(AlarmKind kind) => Assert.Equal(
        AlarmRule.Of(kind).Priority,
        AlarmRationale.Of(kind).TimeToAct switch { "seconds" => AlarmPriority.High, "the song" => AlarmPriority.Medium, _ => AlarmPriority.Low });

    private static string[] Document()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "TrimAssist.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run inside the repository.");
        return File.ReadAllLines(Path.Combine(folder, "docs", "alarms.md"));
    }
}
