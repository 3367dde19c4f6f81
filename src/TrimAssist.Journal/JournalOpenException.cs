namespace TrimAssist.Journal;

/// <summary>The journal cannot be opened. The message is a sentence for the user.</summary>
public sealed class JournalOpenException(string message, Exception? inner = null) : Exception(message, inner);
