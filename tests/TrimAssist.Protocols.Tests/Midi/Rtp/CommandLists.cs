using CsCheck;
using TrimAssist.Fuzz.Targets;
using TrimAssist.Protocols.Midi;
using TrimAssist.Protocols.Midi.Rtp;

namespace TrimAssist.Protocols.Tests.Midi.Rtp;

/// <summary>RFC 6295 (June 2011), section 3; the octets of R1 to R12 follow its figures, as quoted by public code.</summary>
public class CommandLists
{
    [Theory]
    [InlineData("R1, empty list", "00", "")]
    [InlineData("R4", "03 B0 07 64", "0:B0 07 64")]
    [InlineData("R6", "07 90 3C 64 10 80 3C 00", "0:90 3C 64|16:80 3C 00")]
    [InlineData("R7", "09 90 3C 64 00 3E 64 00 40 64", "0:90 3C 64|0:90 3E 64|0:90 40 64")]
    [InlineData("R8", "24 20 B0 01 02", "32:B0 01 02")]
    [InlineData("R9", "09 B0 01 02 81 80 00 B0 01 03", "0:B0 01 02|16384:B0 01 03")]
    [InlineData("R2, last command empty", "04 B0 01 02 05", "0:B0 01 02")]
    [InlineData("R2, delta time alone", "21 05", "")]
    [InlineData("R12, phantom", "13 B0 01 02", "0:B0 01 02")]
    [InlineData("real time keeps running status", "08 90 3C 64 00 F8 00 3E 64", "0:90 3C 64|0:F8|0:90 3E 64")]
    [InlineData("R11, whole", "04 F0 7D 01 F7", "0:WholeExclusive 7D 01")]
    [InlineData("R11, first", "04 F0 7D 01 F0", "0:FirstSegment 7D 01")]
    [InlineData("R11, middle", "04 F7 02 03 F0", "0:MiddleSegment 02 03")]
    [InlineData("R11, last", "03 F7 04 F7", "0:LastSegment 04")]
    [InlineData("R11, cancel", "02 F7 F4", "0:CancelledExclusive ")]
    [InlineData("section 3.2, dropped end", "03 F0 7D F5", "0:WholeExclusive 7D")]
    public void Lists_read_as_their_commands(string row, string hex, string expected)
    {
        Assert.NotEmpty(row);
        Placements.ForEach(Hex.Bytes(hex), bytes =>
        {
            var (commands, error) = Read(bytes);
            Assert.Equal(RtpMidiError.None, error);
            Assert.Equal(expected, string.Join('|', commands));
        });
    }

    [Theory]
    [InlineData("", RtpMidiError.Truncated)]
    [InlineData("80", RtpMidiError.Truncated)]
    [InlineData("03 B0 07", RtpMidiError.Truncated)]
    [InlineData("81 00 B0", RtpMidiError.Truncated)]
    [InlineData("03 B0 07 64 00", RtpMidiError.BadJournal)] // R1: J clear, a journal must not follow
    [InlineData("43 B0 07 64", RtpMidiError.BadJournal)] // R1: J set, a journal must follow
    [InlineData("02 07 64", RtpMidiError.MissingStatus)]
    [InlineData("06 F6 00 07 64 00 00", RtpMidiError.MissingStatus)]
    [InlineData("02 B0 07", RtpMidiError.BadData)]
    [InlineData("03 B0 07 90", RtpMidiError.BadData)]
    [InlineData("01 F5", RtpMidiError.UndefinedStatus)]
    [InlineData("03 F0 7D 01", RtpMidiError.OpenExclusive)]
    [InlineData("04 F0 7D 90 F7", RtpMidiError.OpenExclusive)]
    [InlineData("25 80 80 80 80 00", RtpMidiError.BadDeltaTime)]
    [InlineData("21 80", RtpMidiError.BadDeltaTime)]
    public void Each_fault_has_its_name(string hex, RtpMidiError expected)
        => Placements.ForEach(Hex.Bytes(hex), bytes => Assert.Equal(expected, Read(bytes).Error));

    [Fact] // R10
    public void The_journal_begins_where_the_list_ends()
    {
        Assert.Equal(RtpMidiError.None, RtpMidiPayload.Read(Hex.Bytes("43 90 3C 64 00 00 07"), out var payload));
        Assert.True(payload.HasJournal);
        Assert.Equal("90 3C 64", Hex.Print(payload.List));
        Assert.Equal("00 00 07", Hex.Print(payload.Journal));
    }

    [Fact] // R5: 42 octets of system exclusive take the long header 80 2A
    public void A_list_beyond_15_octets_takes_the_long_header()
    {
        var buffer = new byte[128];
        var writer = new RtpMidiWriter(buffer);
        byte[] exclusive = [0xF0, .. Enumerable.Repeat((byte)0x01, 40), 0xF7];
        Assert.True(writer.TryWriteExclusive(0, exclusive));
        Assert.True(writer.TryFinish(new(Marker: false, 97, 1, 2, 3), out var length));
        Assert.Equal("80 2A F0", Hex.Print(buffer.AsSpan(RtpHeader.Size, 3)));
        Assert.Equal(RtpHeader.Size + 44, length);
    }

    [Fact] // R4 and R6 behind the RTP header of RFC 3550, section 5.1
    public void Commands_are_written_as_the_figures_say()
    {
        var buffer = new byte[64];
        var writer = new RtpMidiWriter(buffer);
        Assert.True(writer.TryWrite(0, MidiMessage.NoteOn(1, 0x3C, 0x64)));
        Assert.True(writer.TryWrite(0x10, MidiMessage.NoteOff(1, 0x3C, 0)));
        Assert.True(writer.TryFinish(new(Marker: false, 97, 0x0102, 0x03040506, 0x0708090A), out var length));
        Assert.Equal("80 E1 01 02 03 04 05 06 07 08 09 0A 07 90 3C 64 10 80 3C 00", Hex.Print(buffer.AsSpan(0, length)));
    }

    [Fact]
    public void A_command_that_does_not_fit_is_left_out_whole()
    {
        var writer = new RtpMidiWriter(new byte[RtpHeader.Size + 2 + 5]);
        Assert.True(writer.TryWrite(0, MidiMessage.ControlChange(1, 7, 100)));
        Assert.False(writer.TryWrite(0, MidiMessage.ControlChange(1, 7, 101)));
        Assert.True(writer.TryFinish(default, out var length));
        Assert.Equal(RtpHeader.Size + 1 + 3, length);
        Assert.False(new RtpMidiWriter(new byte[RtpHeader.Size]).TryFinish(default, out _));
    }

    [Fact]
    public void A_list_of_the_longest_length_is_written_and_no_more()
    {
        var buffer = new byte[8_192];
        var writer = new RtpMidiWriter(buffer);
        byte[] longest = [0xF0, .. Enumerable.Repeat((byte)0x01, RtpMidiWriter.MaxListLength - 2), 0xF7];
        Assert.False(writer.TryWriteExclusive(0, [0xF0, 0x01, .. longest.AsSpan(1)]));
        Assert.True(writer.TryWriteExclusive(0, longest));
        Assert.False(writer.TryWrite(0, MidiMessage.ProgramChange(1, 1)));
        Assert.True(writer.TryFinish(default, out var length));
        Assert.Equal(RtpMidiError.None, RtpMidiPayload.Read(buffer.AsSpan(RtpHeader.Size, length - RtpHeader.Size), out _));
    }

    [Theory]
    [InlineData("80 61 00 01 00 00 00 02 00 00 00 03", "", RtpMidiError.None)]
    [InlineData("81 61 00 01 00 00 00 02 00 00 00 03 AA AA AA AA 00", "00", RtpMidiError.None)]
    [InlineData("90 61 00 01 00 00 00 02 00 00 00 03 BE DE 00 01 AA AA AA AA 00", "00", RtpMidiError.None)]
    [InlineData("A0 61 00 01 00 00 00 02 00 00 00 03 00 00 02", "00", RtpMidiError.None)]
    [InlineData("40 61 00 01 00 00 00 02 00 00 00 03", "", RtpMidiError.BadVersion)]
    [InlineData("80 61 00 01 00 00 00 02 00 00 00", "", RtpMidiError.Truncated)]
    [InlineData("81 61 00 01 00 00 00 02 00 00 00 03", "", RtpMidiError.Truncated)]
    [InlineData("90 61 00 01 00 00 00 02 00 00 00 03 BE DE FF FF", "", RtpMidiError.Truncated)]
    [InlineData("A0 61 00 01 00 00 00 02 00 00 00 03", "", RtpMidiError.BadPadding)]
    [InlineData("A0 61 00 01 00 00 00 02 00 00 00 03 00 00 04", "", RtpMidiError.BadPadding)]
    [InlineData("A0 61 00 01 00 00 00 02 00 00 00 03 00 00 00", "", RtpMidiError.BadPadding)]
    public void The_payload_is_found_behind_any_RTP_header(string hex, string expected, RtpMidiError fault)
        => Placements.ForEach(Hex.Bytes(hex), bytes =>
        {
            Assert.Equal(fault, RtpHeader.Read(bytes, out var header, out var payload));
            Assert.Equal(expected, Hex.Print(payload));
            Assert.Equal(fault == RtpMidiError.None ? new RtpHeader(Marker: false, 0x61, 1, 2, 3) : default, header);
        });

    [Theory]
    [InlineData(new[] { "F0 7D 01 F0", "F7 02 F0", "F7 03 F7" }, "F0 7D 01 02 03 F7", 0)]
    [InlineData(new[] { "F0 7D 01 F7" }, "F0 7D 01 F7", 0)]
    [InlineData(new[] { "F0 7D 01 F0", "F7 F4", "F0 7D 02 F7" }, "F0 7D 02 F7", 0)]
    [InlineData(new[] { "F7 02 F0", "F7 03 F7" }, "", 1)]
    [InlineData(new[] { "F0 7D 01 F0", "F0 7D 02 F7" }, "F0 7D 02 F7", 1)]
    [InlineData(new[] { "F0 7D 01 02 03 F0", "F7 04 05 06 F7" }, "", 1)]
    public void Segments_are_joined_to_a_whole_system_exclusive(string[] segments, string expected, long lost)
    {
        var assembler = new RtpMidiAssembler(6);
        var whole = "";
        foreach (var segment in segments.Select(Hex.Bytes))
        {
            Assert.Equal(RtpMidiError.None, RtpMidiPayload.Read([(byte)segment.Length, .. segment], out var payload));
            var commands = payload.Commands;
            while (commands.TryRead(out var command))
                whole = assembler.TryTake(command, out var exclusive) ? Hex.Print(exclusive) : whole;
        }

        Assert.Equal(expected, whole);
        Assert.Equal(lost, assembler.Lost);
    }

    [Fact]
    public void Any_bytes_are_read_without_throwing()
        => Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0x80, 0x43, 0x0F, 0x90, 0xB0, 0xF0, 0xF7, 0xF4, 0x01)).Array[0, 60].Sample(bytes => RtpMidiTarget.Run(bytes));

    private static (List<string> Commands, RtpMidiError Error) Read(ReadOnlySpan<byte> bytes)
    {
        List<string> read = [];
        if (RtpMidiPayload.Read(bytes, out var payload) is var fault and not RtpMidiError.None)
            return (read, fault);

        var commands = payload.Commands;
        while (commands.TryRead(out var command))
            read.Add($"{command.DeltaTime}:{(command.Kind == RtpMidiCommandKind.Message ? command.Message.ToString() : $"{command.Kind} {Hex.Print(command.Data)}")}");
        return (read, commands.Error);
    }
}
