namespace TrimAssist.Protocols.Osc;

/// <summary>Why a packet could not be written; the first fault is kept.</summary>
public enum OscWriteError
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>The caller's buffer is too small.</summary>
    DoesNotFit,

    /// <summary>An address without a leading slash, or with a zero byte.</summary>
    BadAddress,

    /// <summary>A string with a zero byte inside, which would end it early.</summary>
    ZeroInString,

    /// <summary>Type tags with an unknown one or an array bracket without its partner.</summary>
    BadTypeTags,

    /// <summary>An argument that is not the one the type tags announce, or one too few or too many.</summary>
    ArgumentMismatch,

    /// <summary>More bundles inside one another than <see cref="OscPacketReader.MaxBundleDepth"/>.</summary>
    BundleTooDeep,

    /// <summary>A message or bundle begun, ended or finished out of turn.</summary>
    OutOfTurn,
}
