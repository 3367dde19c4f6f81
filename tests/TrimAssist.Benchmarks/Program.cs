using BenchmarkDotNet.Running;
using TrimAssist.Benchmarks;

// "loop PORT SECONDS" and "queue" are whole runs that eng/bench drives; everything else is BenchmarkDotNet's.
return args switch
{
    ["loop", var port, var seconds] => PacedLoop.Run(int.Parse(port), int.Parse(seconds)),
    ["queue"] => QueuedDrain.Run(),
    _ => BenchmarkSwitcher.FromAssembly(typeof(BenchmarkSettings).Assembly).Run(args, new BenchmarkSettings()).Any() ? 0 : 1,
};
