namespace TrimAssist.Desk.Network;

/// <summary>The socket to a desk cannot be opened. The message is a sentence for the user.</summary>
public sealed class DeskConnectException(string message, Exception? inner = null) : Exception(message, inner);
