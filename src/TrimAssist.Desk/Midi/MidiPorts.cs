using System.Net;
using TrimAssist.Desk.Network;

namespace TrimAssist.Desk.Midi;

/// <summary>Opens MIDI ports.</summary>
public static class MidiPorts
{
    /// <summary>Whether this machine has what it needs for MIDI ports of its own; ports on the network need nothing.</summary>
    public static bool HasSystemPorts => RtMidi.IsInstalled;

    /// <summary>A MIDI port of this machine, by its name as the system shows it, or a part of it that only one port has.</summary>
    /// <exception cref="DeskConnectException">There is no such port, or no MIDI on this machine; the message is a sentence for the user.</exception>
    public static IMidiPort OpenSystem(string name, TimeProvider time) => new SystemMidiPort(name, time);

    /// <summary>A port on the network (RTP-MIDI) that invites a partner until it answers, and accepts the invitations of those who are let in.</summary>
    /// <param name="partner">The partner's lower port.</param>
    /// <param name="listen">The lower port on this side; <see langword="null"/> for any.</param>
    /// <param name="sources">Who is let in; the partner should be among them.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="DeskConnectException">The ports cannot be had.</exception>
    public static IMidiPort Invite(IPEndPoint partner, IPEndPoint? listen, SourceFilter sources, TimeProvider time) => new RtpMidiPort(partner, listen, sources, time);

    /// <summary>A port on the network (RTP-MIDI) that waits to be invited by those who are let in.</summary>
    /// <param name="listen">The lower port on this side.</param>
    /// <param name="sources">Who is let in.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="DeskConnectException">The ports cannot be had.</exception>
    public static IMidiPort Await(IPEndPoint listen, SourceFilter sources, TimeProvider time) => new RtpMidiPort(null, listen, sources, time);
}
