using System.Buffers.Binary;

namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>The head of a recovery journal, in place (RFC 6295, section 5, figure 8).</summary>
public readonly ref struct RecoveryJournal
{
    internal const int HeadSize = 3;
    private const int SystemHeadSize = 2;

    private RecoveryJournal(byte flags, ushort checkpoint, ReadOnlySpan<byte> channels)
    {
        IsSingleLossHint = (flags & 0x80) != 0;
        HasSystemJournal = (flags & 0x40) != 0;
        ChannelJournals = (flags & 0x20) != 0 ? (flags & 0x0F) + 1 : 0;
        Checkpoint = checkpoint;
        Channels = channels;
    }

    /// <summary>S: set when nothing here is needed after the loss of one packet only.</summary>
    public bool IsSingleLossHint { get; }

    /// <summary>Y: whether a system journal stands before the channels; it is passed over.</summary>
    public bool HasSystemJournal { get; }

    /// <summary>How many channel journals follow, 0 to 16.</summary>
    public int ChannelJournals { get; }

    /// <summary>The sequence number of the packet since which the journal remembers.</summary>
    public ushort Checkpoint { get; }

    internal ReadOnlySpan<byte> Channels { get; }

    /// <summary>Reads what the journal restores, from the first entry.</summary>
    public RecoveryJournalReader Entries => new(Channels, ChannelJournals);

    /// <summary>Opens a journal.</summary>
    public static RtpMidiError Read(ReadOnlySpan<byte> bytes, out RecoveryJournal journal)
    {
        journal = default;
        if (bytes.Length < HeadSize)
            return RtpMidiError.Truncated;

        var rest = bytes[HeadSize..];
        if ((bytes[0] & 0x40) != 0)
        {
            // RFC 6295, appendix B: the system journal's own length, its head included, in ten bits.
            if (rest.Length < SystemHeadSize)
                return RtpMidiError.Truncated;
            var length = BinaryPrimitives.ReadUInt16BigEndian(rest) & 0x03FF;
            if (length < SystemHeadSize || length > rest.Length)
                return RtpMidiError.BadJournal;
            rest = rest[length..];
        }

        journal = new(bytes[0], BinaryPrimitives.ReadUInt16BigEndian(bytes[1..]), rest);
        return RtpMidiError.None;
    }
}
