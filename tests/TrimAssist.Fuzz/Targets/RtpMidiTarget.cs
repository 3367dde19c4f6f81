using TrimAssist.Protocols.Midi;
using TrimAssist.Protocols.Midi.Rtp;

namespace TrimAssist.Fuzz.Targets;

/// <summary>Any bytes as an RTP-MIDI packet, and as a payload without RTP header: commands and journal are read without throwing and stay in their ranges.</summary>
public static class RtpMidiTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        if (RtpHeader.Read(bytes, out _, out var payload) == RtpMidiError.None)
            ReadPayload(payload);
        ReadPayload(bytes);
    }

    private static void ReadPayload(ReadOnlySpan<byte> bytes)
    {
        if (RtpMidiPayload.Read(bytes, out var payload) != RtpMidiError.None)
            return;

        ReadCommands(payload.Commands);
        if (!payload.HasJournal || RecoveryJournal.Read(payload.Journal, out var journal) != RtpMidiError.None)
            return;

        var entries = journal.Entries;
        while (entries.TryRead(out var entry))
            Expect.That(entry is { Channel: >= 1 and <= 16, Number: >= 0 and <= 127, Value: >= 0 and <= 127 }, "an entry outside its range");
    }

    private static void ReadCommands(RtpMidiCommandReader commands)
    {
        var assembler = new RtpMidiAssembler(64);
        var buffer = new byte[8_192];
        var writer = new RtpMidiWriter(buffer);
        List<(uint Delta, MidiMessage Message)> messages = [];
        while (commands.TryRead(out var command))
        {
            if (assembler.TryTake(command, out var exclusive))
                Expect.That(exclusive.Length <= 64, "too long a system exclusive");
            if (command.Kind == RtpMidiCommandKind.Message && writer.TryWrite(command.DeltaTime, command.Message))
                messages.Add((command.DeltaTime, command.Message));
        }

        Expect.That(writer.TryFinish(new(false, 97, 1, 2, 3), out var length), "does not fit");
        Expect.That(RtpHeader.Read(buffer.AsSpan(0, length), out _, out var bytes) == RtpMidiError.None && RtpMidiPayload.Read(bytes, out var payload) == RtpMidiError.None, "refused its own writing");
        _ = RtpMidiPayload.Read(bytes, out payload);
        var again = payload.Commands;
        foreach (var (delta, message) in messages)
            Expect.That(again.TryRead(out var command) && command.DeltaTime == delta && command.Message == message, "changed by being written");
        Expect.That(!again.TryRead(out _) && again.Error == RtpMidiError.None, "more was written than given");
    }
}
