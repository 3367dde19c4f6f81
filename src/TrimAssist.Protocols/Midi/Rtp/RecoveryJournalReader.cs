using System.Buffers.Binary;

namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Reads the controllers (chapter C) and notes (chapter N) of every channel journal (RFC 6295, section 5 and appendix A); the other chapters are passed over by their lengths. Never throws, never allocates; the first fault sticks.</summary>
public ref struct RecoveryJournalReader
{
    private const int ChannelHeadSize = 3;

    private ReadOnlySpan<byte> _journals;
    private int _journalsLeft;
    private int _channel;
    private ControllerChapter _controllers;
    private NoteChapter _notes;

    internal RecoveryJournalReader(ReadOnlySpan<byte> channelJournals, int count)
    {
        _journals = channelJournals;
        _journalsLeft = count;
    }

    /// <summary>The first fault so far.</summary>
    public RtpMidiError Error { get; private set; }

    /// <summary>Reads the next entry; false at the end or at a fault.</summary>
    public bool TryRead(out RecoveryEntry entry)
    {
        do
        {
            if (_controllers.TryRead(_channel, out entry) || _notes.TryRead(_channel, out entry))
                return true;
        }
        while (TryOpenChannel());

        return false;
    }

    // RFC 6295, figure 9: S, four bits of channel, H, ten bits of length with these three octets, eight bits of contents.
    private bool TryOpenChannel()
    {
        if (_journalsLeft == 0 || Error != RtpMidiError.None)
            return false;
        if (_journals.Length < ChannelHeadSize)
            return Fail(RtpMidiError.Truncated);

        var head = BinaryPrimitives.ReadUInt16BigEndian(_journals);
        var length = head & 0x03FF;
        if (length < ChannelHeadSize || length > _journals.Length)
            return Fail(RtpMidiError.BadJournal);

        _channel = ((head >> 11) & 0x0F) + 1;
        var contents = _journals[2];
        var chapters = _journals[ChannelHeadSize..length];
        _journals = _journals[length..];
        _journalsLeft--;
        return TryFindChapters(contents, chapters) || Fail(RtpMidiError.BadJournal);
    }

    // Chapters stand in the order of their bits: P C M W N E T A; those after N are of no interest here.
    private bool TryFindChapters(byte contents, ReadOnlySpan<byte> rest)
    {
        ReadOnlySpan<byte> controllers = default;
        ReadOnlySpan<byte> notes = default;
        return ((contents & 0x80) == 0 || TryTake(ref rest, JournalChapters.ProgramSize, out _))
            && ((contents & 0x40) == 0 || TryTake(ref rest, JournalChapters.ControllersSize(rest), out controllers))
            && ((contents & 0x20) == 0 || TryTake(ref rest, JournalChapters.ParametersSize(rest), out _))
            && ((contents & 0x10) == 0 || TryTake(ref rest, JournalChapters.PitchSize, out _))
            && ((contents & 0x08) == 0 || TryTake(ref rest, JournalChapters.NotesSize(rest), out notes))
            && Open(controllers, notes);
    }

    private bool Open(ReadOnlySpan<byte> controllers, ReadOnlySpan<byte> notes)
    {
        _controllers = new(controllers);
        _notes = new(notes);
        return true;
    }

    private static bool TryTake(scoped ref ReadOnlySpan<byte> rest, int size, out ReadOnlySpan<byte> chapter)
    {
        chapter = default;
        if (size == 0 || size > rest.Length)
            return false;

        chapter = rest[..size];
        rest = rest[size..];
        return true;
    }

    private bool Fail(RtpMidiError error)
    {
        if (Error == RtpMidiError.None)
            Error = error;
        return false;
    }
}
