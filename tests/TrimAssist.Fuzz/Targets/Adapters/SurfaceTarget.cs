using TrimAssist.Protocols.Midi;
using TrimAssist.Service.Surfaces;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any bytes from a control surface, as an OSC packet and as a stream of MIDI: a press is one of those that the surface has.</summary>
public static class SurfaceTarget
{
    private const int Slots = 4;
    private const int Inputs = 12;
    private static readonly OscFace Osc = new(Slots, Inputs);

    private static readonly MidiKeys Keys = new(
        new Dictionary<MidiKey, Press> { [new(IsNote: true, 1, 36)] = new(PressKind.Confirm, 1), [new(IsNote: false, 1, 64)] = new(PressKind.Patch, 2) },
        new Dictionary<Press, MidiKey>(),
        new LampValues(0, 1, 127, 64));

    public static void Run(ReadOnlySpan<byte> bytes)
    {
        if (Osc.Read(bytes) is { } press)
            Expect.That(press.Kind == PressKind.Acknowledge || (press.Number >= 1 && press.Number <= (press.Kind == PressKind.Patch ? Inputs : Slots)), "a press of nothing");
        var (face, parser) = (new MidiFace(Keys), new MidiParser());
        while (parser.TryRead(ref bytes, out var message, out _))
            Expect.That(face.Read(message) is not { } pressed || Keys.Presses.Values.Contains(pressed), "a press of no key");
    }
}
