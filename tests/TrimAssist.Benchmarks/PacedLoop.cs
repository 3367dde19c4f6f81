using System.Diagnostics;
using TrimAssist.Benchmarks.Desk;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Benchmarks;

/// <summary>A desk's loop as the service runs it, with a sink that only counts; for a sender in another process.</summary>
internal static class PacedLoop
{
    /// <summary>Listens, then prints how much came and what CPU each datagram cost.</summary>
    public static int Run(int port, int seconds)
    {
        var sink = new CountingSink();
        var loop = new DeskLoop(BenchmarkDesk.Profile(MeterPacking.OneInput, port), sink, TimeProvider.System, () => { });
        using var process = Process.GetCurrentProcess();
        loop.Start();
        // The first second is warm-up.
        Wait(TimeSpan.FromSeconds(1));
        process.Refresh();
        var (cpu, received) = (process.TotalProcessorTime, Received(loop));
        Wait(TimeSpan.FromSeconds(seconds));
        process.Refresh();
        (cpu, received) = (process.TotalProcessorTime - cpu, Received(loop) - received);
        Console.WriteLine($$"""{"datagrams": {{received}}, "cpuUs": {{cpu.TotalMicroseconds / Math.Max(1, received):0.00}}, "overflowed": {{loop.Overflowed}}, "buffer": {{loop.ReceiveBuffer}}}""");
        return 0;
    }

    private static long Received(DeskLoop loop) => loop.RunAsync(() => Task.FromResult(loop.Session.Counters.Received)).GetAwaiter().GetResult();

    private static void Wait(TimeSpan time)
    {
        using var over = new ManualResetEventSlim();
        over.Wait(time);
    }
}
