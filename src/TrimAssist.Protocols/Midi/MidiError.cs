namespace TrimAssist.Protocols.Midi;

/// <summary>Why bytes of a MIDI stream were left out.</summary>
public enum MidiError
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>A data byte without a status to belong to.</summary>
    DataWithoutStatus,

    /// <summary>A message cut short by the status of the next.</summary>
    MessageCut,

    /// <summary>A status that MIDI 1.0 leaves undefined.</summary>
    UndefinedStatus,

    /// <summary>A system exclusive message cut short by a status other than its end.</summary>
    ExclusiveCut,

    /// <summary>A system exclusive message longer than the limit.</summary>
    ExclusiveTooLong,

    /// <summary>The end of a system exclusive message that never began.</summary>
    StrayEndOfExclusive,
}
