using TrimAssist.Protocols.Midi;

namespace TrimAssist.Service.Surfaces;

/// <summary>
/// The face of a surface in MIDI: which messages are a press, and what its lamps are told. A note is pressed by each note on. A controller is
/// pressed when it comes from below <see cref="Half"/>: a pedal that is held, or that moves on its way, is pressed once.
/// </summary>
/// <param name="keys">Its keys and lamps.</param>
internal sealed class MidiFace(MidiKeys keys)
{
    /// <summary>From here on a controller counts as switched on: 0 to 63 off, 64 to 127 on (MIDI 1.0, switches).</summary>
    private const int Half = 64;

    private const int MessageSize = 3;
    private readonly HashSet<MidiKey> _held = [];

    /// <summary>Whoever is there now has nothing held.</summary>
    public void Forget() => _held.Clear();

    /// <summary>The press that a message is; <see langword="null"/> where it is none.</summary>
    public Press? Read(MidiMessage message)
    {
        if (message.Channel is not { } channel)
            return null;
        if (message.IsNoteOn)
            return Find(new(IsNote: true, channel, message.Data1));
        return message.Kind == MidiStatus.ControlChange && IsSwitchedOn(new(IsNote: false, channel, message.Data1), message.Data2)
            ? Find(new(IsNote: false, channel, message.Data1))
            : null;
    }

    /// <summary>The lamps, as whole messages one after another.</summary>
    public byte[] Write(SurfacePicture picture)
    {
        var bytes = new byte[keys.Lamps.Count * MessageSize];
        var at = 0;
        foreach (var (place, lamp) in keys.Lamps)
        {
            if (lamp.With(ValueOf(place, picture)).TryWrite(bytes.AsSpan(at), out var length))
                at += length;
        }

        return bytes[..at];
    }

    private int ValueOf(Press place, SurfacePicture picture) => place.Kind switch
    {
        // Never as ready: a lamp keeps its light when the way to it breaks, and "plug now" must not.
        PressKind.Patch => picture.Patches.Contains(place.Number) ? keys.Values.Wait : keys.Values.Off,
        PressKind.Acknowledge => ValueOf(picture.Alarm.State),
        _ => ValueOf(picture.Slots[place.Number - 1].State),
    };

    private int ValueOf(SlotState state) => state switch
    {
        SlotState.Settling => keys.Values.Wait,
        SlotState.Ready => keys.Values.Ready,
        SlotState.OnThePage => keys.Values.Page,
        _ => keys.Values.Off,
    };

    private bool IsSwitchedOn(MidiKey key, int value) => value >= Half ? keys.Presses.ContainsKey(key) && _held.Add(key) : _held.Remove(key) && false;

    private Press? Find(MidiKey key) => keys.Presses.TryGetValue(key, out var press) ? press : null;
}
