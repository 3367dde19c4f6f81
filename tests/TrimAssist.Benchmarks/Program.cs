using BenchmarkDotNet.Running;
using TrimAssist.Benchmarks;

// "smoke" asserts what does not depend on the clock; "loop PORT SECONDS", "queue" and "soak SECONDS FILE" are whole runs that eng/bench drives; everything else is BenchmarkDotNet's.
return args switch
{
    ["loop", var port, var seconds] => PacedLoop.Run(int.Parse(port), int.Parse(seconds)),
    ["smoke"] => Smoke.Run(Console.Out),
    ["queue"] => QueuedDrain.Run(),
    ["soak", var seconds, var file] => await Soak.RunAsync(TimeSpan.FromSeconds(int.Parse(seconds)), file),
    _ => BenchmarkSwitcher.FromAssembly(typeof(BenchmarkSettings).Assembly).Run(args, new BenchmarkSettings()).Any() ? 0 : 1,
};
