namespace TrimAssist.Desk.Link.Transport;

/// <summary>Carries packets to a desk. Called on the session's thread only.</summary>
public interface IDeskTransport
{
    /// <summary>Sends one packet to the desk, or says why it could not.</summary>
    bool TrySend(ReadOnlySpan<byte> packet, out string? fault);
}
