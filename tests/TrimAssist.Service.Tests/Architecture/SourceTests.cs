using System.Text.RegularExpressions;
using Xunit;

namespace TrimAssist.Service.Tests.Architecture;

/// <summary>Rules about the source text itself.</summary>
public sealed partial class SourceTests
{
    [Fact]
    public void Only_the_gate_makes_a_permission() =>
        Assert.Equal(["ConfirmationGate.cs"], FilesWith(MakesPermission()).Select(Path.GetFileName));

    [Fact]
    public void The_gate_has_one_caller() =>
        Assert.Equal(["GateKeeper.cs"], FilesWith(GrantsPermission()).Select(Path.GetFileName));

    [Fact]
    public void Only_a_real_desks_host_makes_a_writer() =>
        Assert.Equal(["DeskHost.cs"], FilesWith(MakesWriter()).Select(Path.GetFileName));

    [Fact]
    public void Listening_and_replaying_know_no_writer_and_send_nothing() => Assert.DoesNotContain(
        FilesWith(WritesOrSends()),
        file => file.Contains("/Listen/", StringComparison.Ordinal) || file.Contains("/Replay/", StringComparison.Ordinal));

    [Fact]
    public void The_domain_takes_no_locks_and_reads_no_clock() =>
        Assert.DoesNotContain(FilesWith(LocksOrClocks()), file => file.Contains("TrimAssist.Core", StringComparison.Ordinal));

    [Fact]
    public void Nothing_is_left_unfinished() => Assert.Empty(FilesWith(Unfinished()));

    private static IEnumerable<string> FilesWith(Regex pattern) => Directory
        .EnumerateFiles(Path.Combine(Root(), "src"), "*.cs", SearchOption.AllDirectories)
        .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
        .Where(file => pattern.IsMatch(File.ReadAllText(file)));

    private static string Root()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "TrimAssist.sln")))
                return folder;
        }

        throw new DirectoryNotFoundException("The tests run inside the repository.");
    }

    [GeneratedRegex(@"new\s+ConfirmedChange\s*\(", RegexOptions.None, 1000)]
    private static partial Regex MakesPermission();

    [GeneratedRegex(@"\.Grant\s*\(", RegexOptions.None, 1000)]
    private static partial Regex GrantsPermission();

    [GeneratedRegex(@"new\s+DeskWriter\s*\(", RegexOptions.None, 1000)]
    private static partial Regex MakesWriter();

    [GeneratedRegex(@"DeskWriter|ConfirmedChange|\.Send(?:To)?(?:Async)?\s*\(|UdpClient", RegexOptions.None, 1000)]
    private static partial Regex WritesOrSends();

    [GeneratedRegex(@"\block\s*\(|\bLock\b|TimeProvider|Stopwatch|DateTime\.", RegexOptions.None, 1000)]
    private static partial Regex LocksOrClocks();

    [GeneratedRegex(@"NotImplementedException|\bTODO\b|\bFIXME\b|\bHACK\b|async void", RegexOptions.None, 1000)]
    private static partial Regex Unfinished();
}
