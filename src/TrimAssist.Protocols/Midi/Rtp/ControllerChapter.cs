namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Reads the logs of chapter C (RFC 6295, appendix A.3, the bit T from memory): S and number; A clear and the value, or A set, T and a count modulo 64.</summary>
internal ref struct ControllerChapter(ReadOnlySpan<byte> chapter)
{
    private ReadOnlySpan<byte> _logs = chapter.IsEmpty ? default : chapter[1..];

    public bool TryRead(int channel, out RecoveryEntry entry)
    {
        entry = default;
        if (_logs.Length < JournalChapters.LogSize)
            return false;

        var number = _logs[0] & 0x7F;
        var tool = _logs[1];
        _logs = _logs[JournalChapters.LogSize..];
        entry = (tool & 0x80) == 0
            ? new(RecoveryEntryKind.Controller, channel, number, tool)
            : new((tool & 0x40) == 0 ? RecoveryEntryKind.ControllerToggles : RecoveryEntryKind.ControllerCount, channel, number, tool & 0x3F);
        return true;
    }
}
