namespace TrimAssist.Service.Failures;

/// <summary>Something the user gave cannot be used. The message is for the user; exit code 2.</summary>
internal sealed class UsageException(string message) : Exception(message);
