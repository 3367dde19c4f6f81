namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>Hears what comes in over a session. Must not throw.</summary>
public interface ISessionListener
{
    /// <summary>A session began.</summary>
    void OnOpened();

    /// <summary>One whole message came, with its status; a system exclusive with F0 and F7. Valid during the call only.</summary>
    void OnMessage(ReadOnlySpan<byte> message);

    /// <summary>A lost message's effect, restored late from the sender's journal: a controller's or a note's present state.</summary>
    void OnRestored(ReadOnlySpan<byte> message);

    /// <summary>Packets were lost before what comes next.</summary>
    void OnLost(int packets);
}
