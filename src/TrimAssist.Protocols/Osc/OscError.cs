namespace TrimAssist.Protocols.Osc;

/// <summary>Why bytes were refused as OSC; the first fault of a packet is kept.</summary>
public enum OscError
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>A packet or bundle element of no bytes.</summary>
    Empty,

    /// <summary>A size that is not a multiple of four (OSC 1.0, "OSC Packets").</summary>
    Unaligned,

    /// <summary>The bytes end before the value they promise.</summary>
    Truncated,

    /// <summary>A string without the zero byte that ends it.</summary>
    NotTerminated,

    /// <summary>Padding of a string or blob that is not zero.</summary>
    DirtyPadding,

    /// <summary>A message whose address does not begin with a slash.</summary>
    BadAddress,

    /// <summary>An argument type this reader does not know; OSC 1.0 asks to discard the whole message.</summary>
    UnknownTypeTag,

    /// <summary>An array bracket without its partner.</summary>
    UnbalancedArray,

    /// <summary>A blob whose size is negative or larger than the bytes left.</summary>
    BadBlobSize,

    /// <summary>Bytes after the last argument that the type tags promise.</summary>
    TrailingBytes,

    /// <summary>An element that begins like a bundle but lacks the words of its head.</summary>
    BadBundleHead,

    /// <summary>More bundles inside one another than <see cref="OscPacketReader.MaxBundleDepth"/>.</summary>
    BundleTooDeep,

    /// <summary>A bundle element whose size is negative or reaches past its bundle.</summary>
    ElementOverrun,
}
