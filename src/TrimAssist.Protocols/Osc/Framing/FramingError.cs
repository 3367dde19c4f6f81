namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>Why bytes of a stream gave no packet; the first fault is kept.</summary>
public enum FramingError
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>A packet longer than the limit.</summary>
    TooLong,

    /// <summary>A size that is negative when read as OSC's int32, or 2 GiB and more.</summary>
    NegativeSize,

    /// <summary>An escape byte followed by neither of its two partners (RFC 1055).</summary>
    BadEscape,
}
