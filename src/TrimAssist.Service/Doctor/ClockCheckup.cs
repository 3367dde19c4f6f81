using System.Runtime.InteropServices;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the machine's clock can be believed: reports and the journal name times of day. Detection does not depend on it.</summary>
/// <param name="synchronised">Whether the system says that its clock is kept right; <see langword="null"/> where it does not say.</param>
/// <param name="time">The clock.</param>
internal sealed partial class ClockCheckup(Func<bool?> synchronised, TimeProvider time) : ICheckup
{
    private const string Subject = "clock";

    // adjtimex(2): the return value of an unsynchronised clock
    private const int TimeError = 5;

    /// <summary>Looks at the real clock.</summary>
    public ClockCheckup(TimeProvider time)
        : this(AskSystem, time)
    {
    }

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyList<Diagnosis>>([Look()]);

    private Diagnosis Look()
    {
        var now = time.GetUtcNow();
        var built = File.GetLastWriteTimeUtc(Environment.ProcessPath ?? AppContext.BaseDirectory);
        if (now.UtcDateTime < built.AddDays(-1))
            return new(Subject, Verdict.Wrong, $"The clock says {now:yyyy-MM-dd HH:mm} UTC, before this program was installed.", "sudo timedatectl set-ntp true");
        return synchronised() switch
        {
            true => new(Subject, Verdict.Good, $"The clock is kept right and says {now:yyyy-MM-dd HH:mm} UTC."),
            false => new(
                Subject, Verdict.Warning, $"Nobody keeps the clock right; it says {now:yyyy-MM-dd HH:mm} UTC. Times in reports may be off; detection is not.",
                "sudo timedatectl set-ntp true"),
            null => new(Subject, Verdict.Good, $"The clock says {now:yyyy-MM-dd HH:mm} UTC."),
        };
    }

    private static bool? AskSystem()
    {
        if (!OperatingSystem.IsLinux())
            return null;
        // struct timex, all zero: asks and changes nothing. Larger than on any architecture.
        Span<byte> question = stackalloc byte[512];
        question.Clear();
        var state = AdjustTime(ref MemoryMarshal.GetReference(question));
        return state < 0 ? null : state != TimeError;
    }

    [LibraryImport("libc", EntryPoint = "adjtimex")]
    private static partial int AdjustTime(ref byte question);
}
