namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Reads chapter N (RFC 6295, appendix A.6): logs of S and note, Y and velocity; then bits of ended notes, from eight times LOW on, the top bit first.</summary>
internal ref struct NoteChapter
{
    private ReadOnlySpan<byte> _logs;
    private ReadOnlySpan<byte> _offs;
    private int _firstNote;
    private int _bit;

    public NoteChapter(ReadOnlySpan<byte> chapter)
    {
        if (chapter.IsEmpty)
            return;

        var logs = JournalChapters.NoteLogs(chapter) * JournalChapters.LogSize;
        _logs = chapter.Slice(JournalChapters.NotesHeadSize, logs);
        _offs = chapter[(JournalChapters.NotesHeadSize + logs)..];
        _firstNote = (chapter[1] >> 4) * 8;
    }

    public bool TryRead(int channel, out RecoveryEntry entry)
    {
        if (_logs.IsEmpty)
            return TryReadOff(channel, out entry);

        var velocity = _logs[1] & 0x7F;
        entry = velocity == 0
            ? new(RecoveryEntryKind.NoteOff, channel, _logs[0] & 0x7F, 0)
            : new(RecoveryEntryKind.NoteOn, channel, _logs[0] & 0x7F, velocity);
        _logs = _logs[JournalChapters.LogSize..];
        return true;
    }

    private bool TryReadOff(int channel, out RecoveryEntry entry)
    {
        for (; !_offs.IsEmpty; _offs = _offs[1..], _firstNote += 8, _bit = 0)
        {
            while (_bit < 8)
            {
                var mask = 0x80 >> _bit++;
                if ((_offs[0] & mask) == 0)
                    continue;

                entry = new(RecoveryEntryKind.NoteOff, channel, _firstNote + _bit - 1, 0);
                return true;
            }
        }

        entry = default;
        return false;
    }
}
