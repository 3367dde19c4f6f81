namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>The two UDP ports of a session.</summary>
public enum SessionPath
{
    /// <summary>The lower port: invitations, feedback, the end.</summary>
    Control,

    /// <summary>The port above it: MIDI and the clocks.</summary>
    Data,
}
