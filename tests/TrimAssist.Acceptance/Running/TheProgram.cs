using System.Collections.Concurrent;
using System.Diagnostics;

namespace TrimAssist.Acceptance.Running;

/// <summary>A program as its user runs it: a process of its own.</summary>
internal sealed class TheProgram : IAsyncDisposable
{
    private readonly Process _process;
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private TheProgram(string file, IEnumerable<string> arguments)
    {
        _process = new Process
        {
            StartInfo = new ProcessStartInfo(file, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false },
            EnableRaisingEvents = true,
        };
        _process.Exited += (_, _) => _ended.TrySetResult();
        _process.OutputDataReceived += (_, line) => Keep(Output, line.Data);
        _process.ErrorDataReceived += (_, line) => Keep(Errors, line.Data);
        _process.Start();
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    public ConcurrentQueue<string> Output { get; } = new();

    public ConcurrentQueue<string> Errors { get; } = new();

    public int ExitCode => _process.ExitCode;

    /// <summary>What it has taken of all processors so far.</summary>
    public TimeSpan ProcessorTime => _process.TotalProcessorTime;

    /// <summary>Starts trimassist itself: as it was built here, or the published program that TRIMASSIST_PROGRAM names.</summary>
    public static TheProgram TrimAssist(params string[] arguments) => Environment.GetEnvironmentVariable("TRIMASSIST_PROGRAM") is { Length: > 0 } published
        ? new(published, arguments)
        : new("dotnet", [Path.Combine(AppContext.BaseDirectory, "trimassist.dll"), .. arguments]);

    /// <summary>Starts another program.</summary>
    public static TheProgram Other(string file, params string[] arguments) => new(file, arguments);

    /// <summary>Whether a program is installed; a build server must have it.</summary>
    public static bool IsInstalled(string name) =>
        Environment.GetEnvironmentVariable("CI") is "true"
        || (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, name)));

    /// <summary>Waits for a condition, looking often, and fails with what was said when it does not come.</summary>
    public static async Task EventuallyAsync(Func<Task<bool>> holds, TimeSpan within, Func<string> otherwise)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(25), TimeProvider.System);
        var began = TimeProvider.System.GetTimestamp();
        while (!await holds())
        {
            if (TimeProvider.System.GetElapsedTime(began) > within)
                throw new TimeoutException(otherwise());
            await timer.WaitForNextTickAsync();
        }
    }

    /// <summary>Waits until the program has ended and everything it said has been read.</summary>
    public async Task EndAsync(TimeSpan within)
    {
        await _ended.Task.WaitAsync(within, TimeProvider.System);
        await _process.WaitForExitAsync();
    }

    /// <summary>Kills it without a word (SIGKILL), and waits until it is gone.</summary>
    public async Task KillAsync()
    {
        if (_process.HasExited)
            return;
        _process.Kill(entireProcessTree: true);
        await _ended.Task;
    }

    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        _process.Dispose();
    }

    private static void Keep(ConcurrentQueue<string> lines, string? line)
    {
        if (line is not null)
            lines.Enqueue(line);
    }
}
