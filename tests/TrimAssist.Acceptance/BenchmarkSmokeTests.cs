using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance;

/// <summary>What the benchmarks say that does not depend on the clock, held on every build.</summary>
public sealed class BenchmarkSmokeTests
{
    private static readonly string[] Peers = ["Oscpack", "Liblo", "Libebur128"];

    [Fact]
    public async Task Every_benchmark_of_ours_runs_and_allocates_nothing()
    {
        // Built beside this project, in the same configuration.
        var folder = AppContext.BaseDirectory.Replace("TrimAssist.Acceptance", "TrimAssist.Benchmarks", StringComparison.Ordinal);
        await using var smoke = TheProgram.Other("dotnet", Path.Combine(folder, "TrimAssist.Benchmarks.dll"), "smoke");

        await smoke.EndAsync(TimeSpan.FromMinutes(3));

        Assert.True(smoke.ExitCode == 0, string.Join('\n', [.. smoke.Output, .. smoke.Errors]));
        var ours = smoke.Output.Where(line => !Peers.Any(peer => line.Contains(peer, StringComparison.Ordinal))).ToList();
        Assert.True(ours.Count > 15, string.Join('\n', ours));
        Assert.All(ours, line => Assert.EndsWith(" bytes", line, StringComparison.Ordinal));
    }
}
