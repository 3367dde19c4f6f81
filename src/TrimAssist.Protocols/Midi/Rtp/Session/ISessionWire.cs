namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>Carries a session's packets.</summary>
public interface ISessionWire
{
    /// <summary>Sends a packet to the other side of the session.</summary>
    void Send(SessionPath path, ReadOnlySpan<byte> packet);

    /// <summary>Sends a packet to whoever sent the one that is being taken in.</summary>
    void Answer(SessionPath path, ReadOnlySpan<byte> packet);

    /// <summary>Keeps in mind whoever sent the packet that is being taken in: perhaps the other side of a session to come.</summary>
    void Remember(SessionPath path);

    /// <summary>Whoever is kept in mind is the other side from now on.</summary>
    void Adopt();

    /// <summary>The side that this one invites by itself is the other side again.</summary>
    void Return();
}
