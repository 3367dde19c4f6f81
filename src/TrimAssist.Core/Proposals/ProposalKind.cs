namespace TrimAssist.Core.Proposals;

/// <summary>What a proposal changes. There is no kind for phantom power or faders: the service never touches them.</summary>
public enum ProposalKind
{
    /// <summary>The trim; values are in dB.</summary>
    Trim,

    /// <summary>The pad; on is true.</summary>
    Pad,

    /// <summary>Closes the input's own mute.</summary>
    Mute,

    /// <summary>Opens the input's own mute.</summary>
    Unmute,
}
