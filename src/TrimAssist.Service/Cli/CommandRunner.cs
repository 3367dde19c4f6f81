using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Cli;

/// <summary>Runs the work of a command and turns what went wrong into one line on standard error and an exit code.</summary>
internal static class CommandRunner
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>The work failed.</summary>
    public const int Failed = 1;

    /// <summary>Bad usage or a bad input file.</summary>
    public const int BadUsage = 2;

    /// <summary>Runs the work. A reason for the user is one line, never a stack trace.</summary>
    public static async Task<int> RunAsync(Func<Task<int>> work)
    {
        try
        {
            return await work();
        }
        catch (UsageException wrong)
        {
            await Console.Error.WriteLineAsync(wrong.Message);
            return BadUsage;
        }
        catch (WorkFailedException failed)
        {
            await Console.Error.WriteLineAsync(failed.Message);
            return Failed;
        }
        catch (OperationCanceledException)
        {
            return Done;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            await Console.Error.WriteLineAsync(failed.Message);
            return Failed;
        }
    }
}
