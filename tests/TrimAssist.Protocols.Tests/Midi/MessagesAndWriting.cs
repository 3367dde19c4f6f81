using TrimAssist.Protocols.Midi;

namespace TrimAssist.Protocols.Tests.Midi;

public class MessagesAndWriting
{
    [Fact]
    public void Running_status_leaves_out_what_repeats_until_a_system_message()
    {
        var buffer = new byte[64];
        var writer = new MidiWriter(buffer, runningStatus: true);
        Assert.True(writer.TryWrite(MidiMessage.NoteOn(1, 0x3C, 0x64)));
        Assert.True(writer.TryWrite(MidiMessage.NoteOn(1, 0x3E, 0x64)));
        Assert.True(MidiMessage.TryCreate(MidiStatus.TimingClock, 0, 0, out var clock));
        Assert.True(writer.TryWrite(clock));
        Assert.True(writer.TryWrite(MidiMessage.NoteOn(1, 0x40, 0x64)));
        Assert.True(writer.TryWriteExclusive(Hex.Bytes("F0 7D F7")));
        Assert.True(writer.TryWrite(MidiMessage.NoteOn(1, 0x41, 0x64)));
        Assert.Equal("90 3C 64 3E 64 F8 40 64 F0 7D F7 90 41 64", Hex.Print(buffer.AsSpan(0, writer.Length)));
    }

    [Fact]
    public void A_message_that_does_not_fit_is_not_begun()
    {
        var writer = new MidiWriter(new byte[4]);
        Assert.True(writer.TryWrite(MidiMessage.ProgramChange(2, 5)));
        Assert.False(writer.TryWrite(MidiMessage.ControlChange(2, 7, 100)));
        Assert.Equal(2, writer.Length);
        Assert.False(writer.TryWrite(default));
    }

    [Theory]
    [InlineData(0x7F, 0, 0)]
    [InlineData(0xF0, 0, 0)]
    [InlineData(0xF4, 0, 0)]
    [InlineData(0x90, 0x80, 0)]
    [InlineData(0x90, 0, 0x80)]
    [InlineData(0xC0, 0, 1)]
    [InlineData(0xF8, 1, 0)]
    public void Bytes_that_are_no_message_are_refused(byte status, byte data1, byte data2)
        => Assert.False(MidiMessage.TryCreate(status, data1, data2, out _));

    [Fact]
    public void Numbers_outside_MIDI_are_a_mistake_of_the_caller()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiMessage.ControlChange(0, 7, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiMessage.ControlChange(17, 7, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiMessage.ControlChange(1, 128, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiMessage.ControlChange(1, 7, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiMessage.PitchBend(1, 16_384));
    }

    [Fact]
    public void Channels_are_counted_from_1()
    {
        Assert.Equal("BF 07 64", MidiMessage.ControlChange(16, 7, 100).ToString());
        Assert.Equal(16, MidiMessage.ControlChange(16, 7, 100).Channel);
        Assert.True(MidiMessage.TryCreate(MidiStatus.TuneRequest, 0, 0, out var tune));
        Assert.Null(tune.Channel);
    }

    [Theory]
    [InlineData("F0 7D 01 F7", true)]
    [InlineData("F0 F7", false)]
    [InlineData("F0 7D 80 F7", false)]
    [InlineData("F0 7D 01", false)]
    [InlineData("7D 01 F7", false)]
    public void System_exclusive_has_its_form(string hex, bool valid) => Assert.Equal(valid, SystemExclusive.IsValid(Hex.Bytes(hex)));

    [Fact]
    public void Data_is_put_between_the_bytes_of_system_exclusive()
    {
        var buffer = new byte[4];
        Assert.True(SystemExclusive.TryWrite([SystemExclusive.NonCommercialId, 1], buffer, out var written));
        Assert.Equal("F0 7D 01 F7", Hex.Print(buffer.AsSpan(0, written)));
        Assert.False(SystemExclusive.TryWrite([SystemExclusive.NonCommercialId, 1, 2], buffer, out _));
        Assert.False(SystemExclusive.TryWrite([0x80], buffer, out _));
        Assert.False(SystemExclusive.TryWrite([], buffer, out _));
    }
}
