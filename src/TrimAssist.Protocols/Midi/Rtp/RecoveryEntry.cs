namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>What one entry of a recovery journal restores.</summary>
public enum RecoveryEntryKind
{
    /// <summary>A controller's value (chapter C, "value" tool).</summary>
    Controller,

    /// <summary>How often a switch-like controller was switched, modulo 64 (chapter C, "toggle" tool).</summary>
    ControllerToggles,

    /// <summary>How often a controller was sent, modulo 64 (chapter C, "count" tool).</summary>
    ControllerCount,

    /// <summary>A note that should be sounding (chapter N).</summary>
    NoteOn,

    /// <summary>A note that should have ended (chapter N).</summary>
    NoteOff,
}

/// <summary>One entry of a recovery journal for a controller or note.</summary>
/// <param name="Kind">What it restores.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Number">The controller or note, 0 to 127.</param>
/// <param name="Value">The controller's value, count or velocity; 0 for a note off.</param>
public readonly record struct RecoveryEntry(RecoveryEntryKind Kind, int Channel, int Number, int Value);
