using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Exporters.Json;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Perfolizer.Horology;
using Perfolizer.Metrology;

namespace TrimAssist.Benchmarks;

/// <summary>
/// One process measures us and the peers, in groups of the same work, so that a busy machine slows both alike. Ratios and minima
/// say more than means.
/// </summary>
internal sealed class BenchmarkSettings : ManualConfig
{
    public BenchmarkSettings()
    {
        Add(DefaultConfig.Instance);
        WithArtifactsPath(Path.Combine("artifacts", "bench"));
        AddJob(Job.Default
            .WithToolchain(InProcessEmitToolchain.Instance)
            // Many short iterations: some of them are never interrupted, and the least of them is the figure to compare.
            .WithIterationTime(TimeInterval.FromMilliseconds(4))
            .WithGcForce(false)
            .WithWarmupCount(100)
            .WithMinIterationCount(150)
            .WithMaxIterationCount(200));
        AddDiagnoser(MemoryDiagnoser.Default);
        AddColumn(StatisticColumn.Min, StatisticColumn.Median);
        HideColumns(Column.Error, Column.StdDev, Column.RatioSD);
        AddLogicalGroupRules(BenchmarkLogicalGroupRule.ByCategory);
        AddExporter(JsonExporter.Brief);
        WithSummaryStyle(SummaryStyle.Default.WithTimeUnit(TimeUnit.Nanosecond).WithSizeUnit(SizeUnit.B));
    }
}
