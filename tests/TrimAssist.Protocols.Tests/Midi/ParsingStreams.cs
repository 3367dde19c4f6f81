using CsCheck;
using TrimAssist.Fuzz.Targets;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Protocols.Tests.Midi;

/// <summary>MIDI 1.0 Detailed Specification (96.1), its tables of status bytes and the practice it recommends to receivers for running status; rows M1 to M11 taken from public code and pages that quote it.</summary>
public class ParsingStreams
{
    [Theory]
    [InlineData("M1", "80 3C 40 90 3C 64 A0 3C 10 B0 07 64 C0 05 D0 06 E0 00 40", "80 3C 40|90 3C 64|A0 3C 10|B0 07 64|C0 05|D0 06|E0 00 40", MidiError.None)]
    [InlineData("M1", "F1 12 F2 01 02 F3 04 F6 F8 FA FB FC FE FF", "F1 12|F2 01 02|F3 04|F6|F8|FA|FB|FC|FE|FF", MidiError.None)]
    [InlineData("M1, undefined", "F4 F5 F9 FD 90 3C 64", "90 3C 64", MidiError.UndefinedStatus)]
    [InlineData("M6, power up", "3C 64 90 3C 64", "90 3C 64", MidiError.DataWithoutStatus)]
    [InlineData("M6, F1 is no running status", "F1 12 13 90 3C 64", "F1 12|90 3C 64", MidiError.DataWithoutStatus)]
    [InlineData("M7", "90 3C 64 3E 64", "90 3C 64|90 3E 64", MidiError.None)]
    [InlineData("M8", "90 3C F8 64 3E 64", "F8|90 3C 64|90 3E 64", MidiError.None)]
    [InlineData("M9", "90 3C 64 F6 3E 64", "90 3C 64|F6", MidiError.DataWithoutStatus)]
    [InlineData("M10", "F0 7D 01 F8 02 F7", "F8|F0 7D 01 02 F7", MidiError.None)]
    [InlineData("M11", "F0 7D 01 90 3C 64", "90 3C 64", MidiError.ExclusiveCut)]
    [InlineData("exclusive clears running status", "90 3C 64 F0 7D F7 3E 64", "90 3C 64|F0 7D F7", MidiError.DataWithoutStatus)]
    [InlineData("exclusive after exclusive", "F0 7D 01 F0 7D 02 F7", "F0 7D 02 F7", MidiError.ExclusiveCut)]
    [InlineData("stray end", "F7 90 3C 64", "90 3C 64", MidiError.StrayEndOfExclusive)]
    [InlineData("message cut", "90 3C B0 07 64", "B0 07 64", MidiError.MessageCut)]
    [InlineData("song position cut", "F2 01 B0 07 64", "B0 07 64", MidiError.MessageCut)]
    [InlineData("undefined real time inside", "90 3C FD 64", "90 3C 64", MidiError.UndefinedStatus)]
    public void Streams_give_their_messages_at_every_cut(string row, string stream, string expected, MidiError fault)
    {
        Assert.NotEmpty(row);
        var bytes = Hex.Bytes(stream);
        var messages = expected.Split('|');
        for (var cut = 0; cut <= bytes.Length; cut++)
        {
            var parser = new MidiParser();
            Assert.Equal(messages, MidiStreams.Read(parser, bytes[..cut], bytes[cut..]));
            Assert.Equal(fault, parser.FirstError);
        }

        Assert.Equal(messages, MidiStreams.Read(new MidiParser(), [.. bytes.Select(value => (byte[])[value])]));
    }

    [Fact] // M2
    public void A_note_on_of_velocity_0_is_a_note_off()
    {
        Assert.True(MidiMessage.NoteOn(1, 60, 0).IsNoteOff);
        Assert.False(MidiMessage.NoteOn(1, 60, 0).IsNoteOn);
        Assert.True(MidiMessage.NoteOn(1, 60, 1).IsNoteOn);
        Assert.True(MidiMessage.NoteOff(1, 60, 64).IsNoteOff);
    }

    [Theory] // M3
    [InlineData(0, "E0 00 00")]
    [InlineData(8192, "E0 00 40")]
    [InlineData(16383, "E0 7F 7F")]
    public void Pitch_bend_sends_its_lower_half_first(int value, string bytes)
    {
        Assert.Equal(bytes, MidiMessage.PitchBend(1, value).ToString());
        Assert.Equal(value, MidiMessage.PitchBend(1, value).Value14);
    }

    [Fact]
    public void A_system_exclusive_of_the_limit_is_taken_and_one_byte_more_is_left_out()
    {
        Assert.Equal(["F0 7D 01 F7"], MidiStreams.Read(new MidiParser(4), Hex.Bytes("F0 7D 01 F7")));
        var parser = new MidiParser(3);
        Assert.Equal(["90 3C 64", "F0 7D F7"], MidiStreams.Read(parser, Hex.Bytes("F0 7D 01 F7 90 3C 64 F0 7D F7")));
        Assert.Equal(MidiError.ExclusiveTooLong, parser.FirstError);
        Assert.Equal(1, parser.Faults);
    }

    [Fact]
    public void A_reset_forgets_what_was_half_received()
    {
        var parser = new MidiParser();
        Assert.Empty(MidiStreams.Read(parser, Hex.Bytes("90 3C")));
        parser.Reset();
        Assert.Equal(["B0 07 64"], MidiStreams.Read(parser, Hex.Bytes("64 B0 07 64")));
    }

    [Fact]
    public void Any_bytes_are_read_without_throwing_and_the_same_at_any_cut()
        => Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0x90, 0xB0, 0xC0, 0xF0, 0xF2, 0xF7, 0xF8, 0x01)).Array[0, 120].Sample(bytes => MidiTarget.Run(bytes));

    [Fact]
    public void Parsing_allocates_nothing()
    {
        var parser = new MidiParser();
        var assembler = new MidiValueAssembler();
        var stream = Hex.Bytes("90 3C F8 64 3E 64 F0 7D 01 02 F7 B8 63 01 62 00 06 26 26 40");
        Parse(parser, assembler, stream);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var count = Parse(parser, assembler, stream);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.Equal(10, count);
        Assert.Equal(0, allocated);
    }

    private static int Parse(MidiParser parser, MidiValueAssembler assembler, ReadOnlySpan<byte> input)
    {
        var count = 0;
        while (parser.TryRead(ref input, out var message, out _))
            count += 1 + (assembler.TryTake(message, out _) ? 1 : 0);
        return count;
    }
}
