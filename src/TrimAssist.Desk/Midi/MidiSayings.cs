using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Midi;

/// <summary>Why a MIDI port carries nothing, and what to do about it.</summary>
internal static class MidiSayings
{
    public static Saying MidiGone(string port) => Saying.Of($"The MIDI port \"{port}\" is gone: look at its cable and its power. It is opened again by itself.");
    public static Saying MidiShut(string port, string why) => Saying.Of($"The MIDI port \"{port}\" cannot be opened ({why}): another program may hold it. It is tried again by itself.");
    public static Saying MidiRefuses(string port, string why) => Saying.Of($"The MIDI port \"{port}\" did not take what was sent ({why}). It is opened again by itself.");
    public static Saying MidiNoneSends(string why) => Saying.Of($"No MIDI port of this machine sends anything ({why}): plug the desk in. It is looked for again by itself.");
    public static Saying MidiNoneTakes(string why) => Saying.Of($"No MIDI port of this machine takes anything ({why}): plug the desk in. It is looked for again by itself.");
    public static Saying MidiUnknownSends(string port, string there) => Saying.Of($"No MIDI port here that sends is called \"{port}\", or several are: plug it in, or name one of these: {there}.");
    public static Saying MidiUnknownTakes(string port, string there) => Saying.Of($"No MIDI port here that takes is called \"{port}\", or several are: plug it in, or name one of these: {there}.");
    public static Saying MidiNobody { get; } = Saying.Of($"Nobody has begun a MIDI session yet: begin it on the other side.");
    public static Saying MidiNoAnswer(string at) => Saying.Of($"No answer to the invitation to a MIDI session at {at}: look at the address and the network. It is invited again by itself.");
    public static Saying MidiRefused(string at) => Saying.Of($"The MIDI session at {at} refused the invitation: let this machine in there. It is invited again by itself.");
}
