namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>
/// The receiving side of one stream: puts packets in order, tells what was lost, and restores controllers and notes from the sender's
/// recovery journal (RFC 6295, section 4: no lasting artefact may remain). Allocates nothing per packet.
/// </summary>
public sealed class RtpMidiInbox(ISessionListener listener)
{
    private const int Channels = 16;
    private const int Numbers = 128;
    private const byte Unknown = 0xFF;

    // A sequence number this far behind is an old packet, further behind a new stream.
    private const int Reordered = 256;

    private readonly RtpMidiAssembler _assembler = new();
    private readonly byte[] _controllers = NothingKnown();
    private readonly byte[] _notes = NothingKnown();
    private readonly bool[] _moved = new bool[Channels * Numbers];
    private bool _running;

    /// <summary>The sequence number of the last packet taken in.</summary>
    public ushort Last { get; private set; }

    /// <summary>Packets taken in.</summary>
    public long Packets { get; private set; }

    /// <summary>Packets that were refused: no RTP-MIDI.</summary>
    public long Refused { get; private set; }

    /// <summary>Packets that came twice or too late.</summary>
    public long Late { get; private set; }

    /// <summary>Packets that never came.</summary>
    public long Lost { get; private set; }

    /// <summary>The fault of the last packet that was refused.</summary>
    public RtpMidiError LastError { get; private set; }

    /// <summary>Takes in a packet whose header was read.</summary>
    public void Take(RtpHeader header, ReadOnlySpan<byte> payload)
    {
        var error = RtpMidiPayload.Read(payload, out var read);
        if (error != RtpMidiError.None)
        {
            Refuse(error);
            return;
        }

        var step = _running ? (short)(header.SequenceNumber - Last) : (short)1;
        if (step <= 0 && step > -Reordered)
        {
            Late++;
            return;
        }

        Packets++;
        var missing = step > 1 ? step - 1 : 0;
        (_running, Last) = (true, header.SequenceNumber);
        if (missing > 0)
            Recover(read, missing);
        Play(read);
    }

    private void Recover(RtpMidiPayload payload, int missing)
    {
        Lost += missing;
        _assembler.Forget();
        listener.OnLost(missing);
        if (!payload.HasJournal)
            return;
        var error = RecoveryJournal.Read(payload.Journal, out var journal);
        if (error != RtpMidiError.None)
        {
            Refuse(error);
            return;
        }

        // A journal that says nothing is needed after the loss of one packet only.
        if (missing == 1 && journal.IsSingleLossHint)
            return;
        var entries = journal.Entries;
        while (entries.TryRead(out var entry))
            Restore(entry);
        RestoreControllers();
        if (entries.Error != RtpMidiError.None)
            Refuse(entries.Error);
    }

    private void Restore(RecoveryEntry entry)
    {
        var (channel, number) = (entry.Channel, entry.Number);
        switch (entry.Kind)
        {
            // Data entry and the selection of parameters mean something in their order only: nothing can be told from the last of each.
            case RecoveryEntryKind.Controller when !MidiController.IsOfParameter(number) && _controllers[Index(channel, number)] != entry.Value:
                (_controllers[Index(channel, number)], _moved[Index(channel, number)]) = ((byte)entry.Value, true);
                break;
            case RecoveryEntryKind.NoteOn when _notes[Index(channel, number)] != entry.Value:
                Restore(MidiMessage.NoteOn(channel, number, entry.Value));
                break;
            case RecoveryEntryKind.NoteOff when _notes[Index(channel, number)] != 0:
                Restore(MidiMessage.NoteOff(channel, number, 0));
                break;
        }
    }

    // The halves of a pair are told together, the upper one first: one alone would be taken for another value.
    private void RestoreControllers()
    {
        for (var channel = 1; channel <= Channels; channel++)
        {
            for (var number = 0; number < Numbers; number++)
            {
                var isUpper = number < MidiController.LowerHalfOffset;
                var isLower = !isUpper && number < 2 * MidiController.LowerHalfOffset;
                var other = isUpper ? number + MidiController.LowerHalfOffset : isLower ? number - MidiController.LowerHalfOffset : number;
                var (own, pair) = (Index(channel, number), Index(channel, other));
                if (_controllers[own] != Unknown && (_moved[own] || (_moved[pair] && !MidiController.IsOfParameter(number))))
                    Restore(MidiMessage.ControlChange(channel, number, _controllers[own]));
            }
        }

        Array.Clear(_moved);
    }

    private void Restore(MidiMessage message)
    {
        Span<byte> bytes = stackalloc byte[3];
        Remember(message);
        if (message.TryWrite(bytes, out var length))
            listener.OnRestored(bytes[..length]);
    }

    private void Play(RtpMidiPayload payload)
    {
        Span<byte> bytes = stackalloc byte[3];
        var commands = payload.Commands;
        while (commands.TryRead(out var command))
        {
            if (command.Kind != RtpMidiCommandKind.Message)
            {
                if (_assembler.TryTake(command, out var exclusive))
                    listener.OnMessage(exclusive);
                continue;
            }

            Remember(command.Message);
            if (command.Message.TryWrite(bytes, out var length))
                listener.OnMessage(bytes[..length]);
        }

        if (commands.Error != RtpMidiError.None)
            Refuse(commands.Error);
    }

    private void Remember(MidiMessage message)
    {
        if (message.Channel is not { } channel)
            return;
        if (message.Kind == MidiStatus.ControlChange)
            _controllers[Index(channel, message.Data1)] = message.Data2;
        else if (message.IsNoteOn)
            _notes[Index(channel, message.Data1)] = message.Data2;
        else if (message.IsNoteOff)
            _notes[Index(channel, message.Data1)] = 0;
    }

    private void Refuse(RtpMidiError error)
    {
        LastError = error;
        Refused++;
    }

    private static int Index(int channel, int number) => ((channel - 1) * Numbers) + number;

    private static byte[] NothingKnown()
    {
        var all = new byte[Channels * Numbers];
        Array.Fill(all, Unknown);
        return all;
    }
}
