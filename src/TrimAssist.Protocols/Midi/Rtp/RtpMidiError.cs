namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Why a packet was refused as RTP-MIDI; the first fault is kept.</summary>
public enum RtpMidiError
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>The packet ends before what it promises.</summary>
    Truncated,

    /// <summary>An RTP version other than 2.</summary>
    BadVersion,

    /// <summary>RTP padding that is empty or longer than the payload.</summary>
    BadPadding,

    /// <summary>A delta time cut short or longer than four octets.</summary>
    BadDeltaTime,

    /// <summary>A command without status where none runs.</summary>
    MissingStatus,

    /// <summary>A command cut short, or with a status among its data.</summary>
    BadData,

    /// <summary>A status that MIDI 1.0 leaves undefined.</summary>
    UndefinedStatus,

    /// <summary>A system exclusive segment without its closing octet.</summary>
    OpenExclusive,

    /// <summary>A recovery journal whose lengths contradict one another.</summary>
    BadJournal,
}
