using System.Buffers.Binary;

namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Octets each chapter of a channel journal takes (RFC 6295, appendix A); 0 where the head is cut or contradicts itself.</summary>
internal static class JournalChapters
{
    /// <summary>Chapter P: program and bank.</summary>
    public const int ProgramSize = 3;

    /// <summary>Chapter W: pitch wheel.</summary>
    public const int PitchSize = 2;

    /// <summary>Octets of one log in chapters C and N.</summary>
    public const int LogSize = 2;

    /// <summary>Octets of chapter N's head.</summary>
    public const int NotesHeadSize = 2;

    private const int ControllersHeadSize = 1;

    /// <summary>Chapter C: S and the number of logs less one, then the logs.</summary>
    public static int ControllersSize(ReadOnlySpan<byte> chapter)
        => chapter.IsEmpty ? 0 : ControllersHeadSize + (((chapter[0] & 0x7F) + 1) * LogSize);

    /// <summary>Chapter M: its own length, head included, in ten bits.</summary>
    public static int ParametersSize(ReadOnlySpan<byte> chapter)
        => chapter.Length < 2 ? 0 : BinaryPrimitives.ReadUInt16BigEndian(chapter) & 0x03FF;

    /// <summary>Chapter N: head, note logs, then a bit for each note that ended.</summary>
    public static int NotesSize(ReadOnlySpan<byte> chapter)
        => chapter.Length < NotesHeadSize ? 0 : NotesHeadSize + (NoteLogs(chapter) * LogSize) + OffOctets(chapter);

    /// <summary>How many note logs; 127 means 128 when LOW is 15 and HIGH is 0.</summary>
    public static int NoteLogs(ReadOnlySpan<byte> chapter)
    {
        var count = chapter[0] & 0x7F;
        return count == 127 && chapter[1] == 0xF0 ? 128 : count;
    }

    /// <summary>How many octets of ended notes: HIGH less LOW and one, none when LOW is the higher.</summary>
    public static int OffOctets(ReadOnlySpan<byte> chapter) => Math.Max(0, (chapter[1] & 0x0F) - (chapter[1] >> 4) + 1);
}
