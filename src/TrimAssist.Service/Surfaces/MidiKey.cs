using TrimAssist.Protocols.Midi;

namespace TrimAssist.Service.Surfaces;

/// <summary>A note or a controller: a key that is pressed, or a lamp that is lit.</summary>
/// <param name="IsNote">Whether it is a note.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Number">The note, 0 to 127, or the controller, 0 to <see cref="LastController"/>.</param>
internal readonly record struct MidiKey(bool IsNote, int Channel, int Number)
{
    /// <summary>The controllers above are channel mode messages (MIDI 1.0): all notes off and the like.</summary>
    public const int LastController = 119;

    /// <summary>The message that gives it a value; for a note its velocity.</summary>
    public MidiMessage With(int value) => IsNote ? MidiMessage.NoteOn(Channel, Number, value) : MidiMessage.ControlChange(Channel, Number, value);
}

/// <summary>The keys and lamps of a MIDI surface.</summary>
/// <param name="Presses">What each key is pressed for.</param>
/// <param name="Lamps">Where it is shown how a place stands, by what the key beside it is pressed for.</param>
/// <param name="Values">What a lamp is told.</param>
internal sealed record MidiKeys(IReadOnlyDictionary<MidiKey, Press> Presses, IReadOnlyDictionary<Press, MidiKey> Lamps, LampValues Values);

/// <summary>What a lamp is told, 0 to 127.</summary>
/// <param name="Off">Nothing is there.</param>
/// <param name="Wait">Something has just changed; or a patch that was asked for is under way.</param>
/// <param name="Ready">A press is taken. No other state has this value.</param>
/// <param name="Page">It is answered on the page.</param>
internal readonly record struct LampValues(int Off, int Wait, int Ready, int Page);
