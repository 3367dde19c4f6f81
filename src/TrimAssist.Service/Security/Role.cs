namespace TrimAssist.Service.Security;

/// <summary>What somebody may do.</summary>
public enum Role
{
    /// <summary>Look.</summary>
    Guest,

    /// <summary>Ask for a safe patch of its own inputs.</summary>
    Stage,

    /// <summary>A band in a rehearsal room: look, and confirm on its own inputs decreases, and increases of at most 3 dB while muted.</summary>
    Room,

    /// <summary>Everything.</summary>
    Engineer,
}
