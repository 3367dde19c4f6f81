namespace TrimAssist.Service.Failures;

/// <summary>The work could not be done. The message is for the user; exit code 1.</summary>
internal sealed class WorkFailedException(string message) : Exception(message);
