namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>The payload of an RTP-MIDI packet, in place: the command list and the recovery journal (RFC 6295, section 3).</summary>
public readonly ref struct RtpMidiPayload
{
    internal const byte LongHeader = 0x80;
    internal const byte HasJournalBit = 0x40;
    internal const byte FirstDeltaBit = 0x20;
    internal const byte PhantomBit = 0x10;

    private RtpMidiPayload(byte flags, ReadOnlySpan<byte> list, ReadOnlySpan<byte> journal)
    {
        HasJournal = (flags & HasJournalBit) != 0;
        HasFirstDelta = (flags & FirstDeltaBit) != 0;
        IsPhantom = (flags & PhantomBit) != 0;
        List = list;
        Journal = journal;
    }

    /// <summary>J: whether a recovery journal follows the list.</summary>
    public bool HasJournal { get; }

    /// <summary>Z: whether a delta time stands before the first command.</summary>
    public bool HasFirstDelta { get; }

    /// <summary>P: whether the first command had no status of its own in the source (running status).</summary>
    public bool IsPhantom { get; }

    /// <summary>The octets of the command list.</summary>
    public ReadOnlySpan<byte> List { get; }

    /// <summary>The octets of the recovery journal.</summary>
    public ReadOnlySpan<byte> Journal { get; }

    /// <summary>Reads the commands from the first.</summary>
    public RtpMidiCommandReader Commands => new(List, HasFirstDelta);

    /// <summary>Opens a payload, without its RTP header.</summary>
    public static RtpMidiError Read(ReadOnlySpan<byte> bytes, out RtpMidiPayload payload)
    {
        payload = default;
        if (bytes.IsEmpty)
            return RtpMidiError.Truncated;

        var flags = bytes[0];
        var isLong = (flags & LongHeader) != 0;
        if (isLong && bytes.Length < 2)
            return RtpMidiError.Truncated;

        var length = isLong ? ((flags & 0x0F) << 8) | bytes[1] : flags & 0x0F;
        var rest = bytes[(isLong ? 2 : 1)..];
        if (rest.Length < length)
            return RtpMidiError.Truncated;

        // RFC 6295, section 3: J set, a journal must follow; J clear, it must not.
        var journal = rest[length..];
        if (journal.IsEmpty == ((flags & HasJournalBit) != 0))
            return RtpMidiError.BadJournal;

        payload = new(flags, rest[..length], journal);
        return RtpMidiError.None;
    }
}
