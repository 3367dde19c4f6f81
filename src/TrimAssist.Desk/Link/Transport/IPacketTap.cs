namespace TrimAssist.Desk.Link.Transport;

/// <summary>Sees every packet that a session takes in or sends out, as it is on the wire. Must neither block nor throw.</summary>
public interface IPacketTap
{
    /// <summary>A packet that the source filter let in.</summary>
    /// <param name="packet">The bytes, valid during the call only.</param>
    /// <param name="sender">The sender's address bytes, without its port; valid during the call only.</param>
    /// <param name="timeS">Seconds since the session began.</param>
    void Received(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double timeS);

    /// <summary>A packet that was handed to the network.</summary>
    /// <param name="packet">The bytes, valid during the call only.</param>
    /// <param name="timeS">Seconds since the session began.</param>
    void Sent(ReadOnlySpan<byte> packet, double timeS);
}
