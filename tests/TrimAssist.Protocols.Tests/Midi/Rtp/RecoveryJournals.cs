using TrimAssist.Protocols.Midi.Rtp;

namespace TrimAssist.Protocols.Tests.Midi.Rtp;

/// <summary>RFC 6295, section 5 and appendix A (R13 to R16); no example octets are published (R17), these are laid out by hand from its figures.</summary>
public class RecoveryJournals
{
    [Theory] // R13: S, Y, A, H, TOTCHAN less one; then the checkpoint
    [InlineData("00 00 07", false, false, 0, 7)]
    [InlineData("80 01 00", true, false, 0, 256)]
    [InlineData("40 00 07 80 02", false, true, 0, 7)]
    [InlineData("21 00 07 00 03 00 08 03 00", false, false, 2, 7)]
    public void The_head_tells_what_follows(string hex, bool singleLoss, bool system, int channels, int checkpoint)
    {
        Assert.Equal(RtpMidiError.None, RecoveryJournal.Read(Hex.Bytes(hex), out var journal));
        Assert.Equal(singleLoss, journal.IsSingleLossHint);
        Assert.Equal(system, journal.HasSystemJournal);
        Assert.Equal(channels, journal.ChannelJournals);
        Assert.Equal(checkpoint, journal.Checkpoint);
        Assert.Empty(Entries(hex).Entries);
    }

    [Fact] // R14: channel 2, 7 octets, chapter C with two logs; R16: a lost volume is restored
    public void Controllers_are_restored()
        => Assert.Equal(
            [
                new(RecoveryEntryKind.Controller, 2, 7, 100),
                new(RecoveryEntryKind.Controller, 2, 10, 64),
                new(RecoveryEntryKind.ControllerToggles, 2, 64, 3),
                new(RecoveryEntryKind.ControllerCount, 2, 96, 5),
            ],
            Entries("20 00 07 08 0C 40 03 07 64 8A 40 C0 83 E0 C5").Entries);

    [Fact] // R16: a note that ended in a lost packet is ended
    public void Notes_are_restored_and_ended()
        => Assert.Equal(
            [
                new(RecoveryEntryKind.NoteOn, 1, 60, 100),
                new(RecoveryEntryKind.NoteOff, 1, 56, 0),
                new(RecoveryEntryKind.NoteOff, 1, 71, 0),
            ],
            Entries("20 00 07 00 09 08 01 78 3C E4 80 01").Entries);

    [Fact] // R14: chapters in the order P C M W N, each passed by its own length
    public void Other_chapters_are_passed_over()
        => Assert.Equal(
            [new(RecoveryEntryKind.Controller, 1, 7, 100), new(RecoveryEntryKind.NoteOn, 1, 60, 1)],
            Entries("60 00 07 80 03 00 00 13 F8 01 02 03 00 07 64 80 04 00 00 40 00 81 F0 BC 01").Entries);

    [Fact]
    public void A_full_chapter_of_128_notes_is_read()
    {
        // LEN 127, LOW 15, HIGH 0: 128 logs.
        List<byte> bytes = [0x20, 0, 7, 0x01, 0x05, 0x08, 0x7F, 0xF0];
        for (var note = 0; note < 128; note++)
            bytes.AddRange([(byte)note, 1]);
        var entries = Entries(Hex.Print([.. bytes])).Entries;
        Assert.Equal(Enumerable.Range(0, 128), entries.Select(entry => entry.Number));
    }

    [Theory]
    [InlineData("00 00", RtpMidiError.Truncated)]
    [InlineData("40 00 07", RtpMidiError.Truncated)]
    [InlineData("40 00 07 00 01", RtpMidiError.BadJournal)]
    [InlineData("40 00 07 00 05 00", RtpMidiError.BadJournal)]
    [InlineData("20 00 07", RtpMidiError.Truncated)]
    [InlineData("20 00 07 00 02 00", RtpMidiError.BadJournal)]
    [InlineData("20 00 07 00 07 40 00", RtpMidiError.BadJournal)]
    [InlineData("20 00 07 00 05 40 01 07", RtpMidiError.BadJournal)]
    [InlineData("20 00 07 00 05 40 05 07 64", RtpMidiError.BadJournal)]
    [InlineData("20 00 07 00 05 20 00 00", RtpMidiError.BadJournal)]
    [InlineData("20 00 07 00 05 08 01 F0", RtpMidiError.BadJournal)]
    public void Lengths_that_contradict_one_another_are_refused_by_name(string hex, RtpMidiError expected)
        => Placements.ForEach(Hex.Bytes(hex), bytes =>
        {
            var (entries, error) = Entries(Hex.Print(bytes));
            Assert.Equal(expected, error);
            Assert.Empty(entries);
        });

    private static (List<RecoveryEntry> Entries, RtpMidiError Error) Entries(string hex)
    {
        List<RecoveryEntry> entries = [];
        if (RecoveryJournal.Read(Hex.Bytes(hex), out var journal) is var fault and not RtpMidiError.None)
            return (entries, fault);

        var reader = journal.Entries;
        while (reader.TryRead(out var entry))
            entries.Add(entry);
        return (entries, reader.Error);
    }
}
