namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>The commands of the session protocol, by their two letters on the wire.</summary>
public enum SessionCommand
{
    /// <summary>An invitation: IN.</summary>
    Invitation = 0x494E,

    /// <summary>An invitation is accepted: OK.</summary>
    Accepted = 0x4F4B,

    /// <summary>An invitation is refused: NO.</summary>
    Refused = 0x4E4F,

    /// <summary>The session ends: BY.</summary>
    End = 0x4259,

    /// <summary>Three words back and forth that measure the clocks: CK.</summary>
    Clock = 0x434B,

    /// <summary>The last sequence number that came: RS.</summary>
    Feedback = 0x5253,
}
