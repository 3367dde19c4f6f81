namespace TrimAssist.Journal;

/// <summary>Held while a process writes a journal; the system lets go of it when the process ends, however it ends.</summary>
internal static class JournalLock
{
    private const int WindowsSharingViolation = unchecked((int)0x80070020);
    private const int LinuxWouldBlock = 11;
    private const int BsdWouldBlock = 35;

    /// <summary>Takes the lock.</summary>
    /// <exception cref="JournalOpenException">Another process has it.</exception>
    /// <exception cref="IOException">The lock's file cannot be made.</exception>
    /// <exception cref="UnauthorizedAccessException">The lock's file cannot be made.</exception>
    public static FileStream Take(JournalFiles files)
    {
        try
        {
            return new FileStream(files.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException held) when (held.HResult is WindowsSharingViolation or LinuxWouldBlock or BsdWouldBlock)
        {
            throw new JournalOpenException($"Another service is using {files.Database}. Stop it, or give this one another --data folder.", held);
        }
    }
}
