using System.Reflection;
using BenchmarkDotNet.Attributes;

namespace TrimAssist.Benchmarks;

/// <summary>
/// Runs every benchmark a few times and looks at what does not depend on the clock: that it runs at all, and how many bytes it allocates for
/// each operation. A peer whose library is not there is named and left out.
/// </summary>
internal static class Smoke
{
    private const int WarmUps = 20;
    private const int Calls = 20;

    /// <summary>Bytes an operation: what a benchmark itself needs for a whole round is spread over thousands.</summary>
    private const double Most = 0.5;

    /// <summary>Answers 0 where nothing of ours allocates, 1 otherwise, and says each figure.</summary>
    public static int Run(TextWriter output)
    {
        var benchmarks =
            from type in typeof(Smoke).Assembly.GetTypes()
            from method in type.GetMethods()
            let told = method.GetCustomAttribute<BenchmarkAttribute>()
            where told is not null
            orderby type.Name, told.SourceCodeLineNumber
            select (type, method, told.OperationsPerInvoke);
        var failed = 0;
        foreach (var (type, method, operations) in benchmarks)
        {
            var bytes = BytesPerOperation(type, method, operations);
            output.WriteLine(FormattableString.Invariant($"{type.Name}.{method.Name}: {(bytes is { } known ? $"{known:0.##} bytes" : "not run, the peer is not here")}"));
            failed += bytes > Most ? 1 : 0;
        }

        return failed == 0 ? 0 : 1;
    }

    private static double? BytesPerOperation(Type type, MethodInfo method, int operations)
    {
        try
        {
            var benchmark = Activator.CreateInstance(type)!;
            foreach (var parameter in type.GetProperties())
            {
                if (parameter.GetCustomAttribute<ParamsAttribute>() is { } values)
                    parameter.SetValue(benchmark, values.Values[0]);
            }

            foreach (var setup in type.GetMethods())
            {
                if (setup.GetCustomAttribute<GlobalSetupAttribute>() is { } told && (told.Targets.Length == 0 || told.Targets.Contains(method.Name, StringComparer.Ordinal)))
                    setup.Invoke(benchmark, null);
            }

            var run = Bind(benchmark, method);
            for (var i = 0; i < WarmUps; i++)
                run();
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var i = 0; i < Calls; i++)
                run();
            return (GC.GetAllocatedBytesForCurrentThread() - before) / (double)(Calls * operations);
        }
        catch (Exception wrong) when ((wrong.InnerException ?? wrong) is DllNotFoundException)
        {
            return null;
        }
    }

    // Called as it stands: reflection would box its answer.
    private static Action Bind(object benchmark, MethodInfo method)
    {
        if (method.ReturnType == typeof(double) && method.CreateDelegate<Func<double>>(benchmark) is var real)
            return () => real();
        if (method.ReturnType == typeof(int) && method.CreateDelegate<Func<int>>(benchmark) is var whole)
            return () => whole();
        return method.CreateDelegate<Action>(benchmark);
    }
}
