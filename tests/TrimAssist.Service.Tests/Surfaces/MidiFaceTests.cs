using CsCheck;
using TrimAssist.Protocols.Midi;
using TrimAssist.Service.Surfaces;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>Which MIDI messages are a press, and what lamps are told.</summary>
public sealed class MidiFaceTests
{
    private static readonly Press Confirm = new(PressKind.Confirm, 1);
    private static readonly Press Patch = new(PressKind.Patch, 3);
    private static readonly LampValues Values = new(Off: 0, Wait: 1, Ready: 127, Page: 64);
    private readonly MidiFace _face = new(new(
        new Dictionary<MidiKey, Press> { [new(IsNote: true, 1, 36)] = Confirm, [new(IsNote: false, 2, 64)] = Patch },
        new Dictionary<Press, MidiKey> { [Confirm] = new(IsNote: true, 1, 36), [Patch] = new(IsNote: false, 2, 20) },
        Values));

    [Fact]
    public void A_note_is_pressed_by_its_note_on_and_by_nothing_else()
    {
        Assert.Equal(Confirm, _face.Read(MidiMessage.NoteOn(1, 36, 1)));
        Assert.Null(_face.Read(MidiMessage.NoteOn(1, 36, 0)));
        Assert.Null(_face.Read(MidiMessage.NoteOff(1, 36, 64)));
        Assert.Null(_face.Read(MidiMessage.NoteOn(2, 36, 100)));
        Assert.Null(_face.Read(MidiMessage.NoteOn(1, 37, 100)));
        Assert.Null(_face.Read(MidiMessage.ControlChange(1, 36, 127)));
        Assert.Null(_face.Read(MidiMessage.ProgramChange(1, 36)));
    }

    [Fact]
    public void A_pedal_is_pressed_once_on_its_way_down_however_many_values_it_sends()
    {
        Assert.Equal([null, null, Patch, null, null, null, null, Patch], new[] { 0, 63, 64, 127, 90, 127, 63, 64 }.Select(value => _face.Read(MidiMessage.ControlChange(2, 64, value))));
        _face.Forget();
        Assert.Equal(Patch, _face.Read(MidiMessage.ControlChange(2, 64, 127)));
    }

    [Theory]
    [InlineData(SlotState.Empty, 0)]
    [InlineData(SlotState.Settling, 1)]
    [InlineData(SlotState.Ready, 127)]
    [InlineData(SlotState.OnThePage, 64)]
    internal void A_lamp_shows_how_its_slot_stands(SlotState state, int value) =>
        Assert.Equal([0x90, 36, (byte)value, 0xB1, 20, 0], _face.Write(new([new(state, "", "")], default, [1, 2])));

    [Fact]
    public void A_patch_under_way_is_never_shown_as_ready() =>
        Assert.Equal([0x90, 36, 0, 0xB1, 20, 1], _face.Write(new([default], default, [2, 3])));

    [Fact]
    public void Whatever_comes_a_press_is_one_of_the_keys_and_a_pedal_is_let_go_before_it_is_pressed_again() =>
        Gen.Select(Gen.Int[0x80, 0xEF], Gen.Int[0, 127], Gen.Int[0, 127]).Array.Sample(messages =>
        {
            _face.Forget();
            var last = 0;
            foreach (var (status, first, second) in messages)
            {
                if (!MidiMessage.TryCreate((byte)status, (byte)first, (byte)second, out var message))
                    continue;
                var press = _face.Read(message);
                var isPedal = status == 0xB1 && first == 64;
                Assert.Equal(isPedal && second >= 64 && last < 64 ? Patch : message is { IsNoteOn: true, Channel: 1, Data1: 36 } ? Confirm : (Press?)null, press);
                last = isPedal ? second : last;
            }
        });
}
