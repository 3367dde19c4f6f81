namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>The bytes of SLIP (RFC 1055), with which OSC 1.1 frames streams.</summary>
internal static class Slip
{
    public const byte End = 0xC0;
    public const byte Escape = 0xDB;
    public const byte EscapedEnd = 0xDC;
    public const byte EscapedEscape = 0xDD;
}
