namespace TrimAssist.Journal;

/// <summary>The journal cannot be used as asked: another process has it, a newer program wrote it, it is damaged, or it cannot be read or copied. The message is a sentence for the user.</summary>
public sealed class JournalOpenException(string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>Whether it is as it should be, and only this program is too old for it.</summary>
    public bool IsNewer { get; init; }
}
