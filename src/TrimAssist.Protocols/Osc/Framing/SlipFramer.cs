namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>Writes OSC 1.1 stream framing: SLIP with an END at both ends.</summary>
public static class SlipFramer
{
    /// <summary>Bytes a packet takes with its frame and escapes.</summary>
    public static int SizeOf(ReadOnlySpan<byte> packet)
        => packet.Length + packet.Count(Slip.End) + packet.Count(Slip.Escape) + 2;

    /// <summary>Frames a packet; false when <paramref name="destination"/> is too small.</summary>
    public static bool TryWrite(ReadOnlySpan<byte> packet, Span<byte> destination, out int written)
    {
        written = 0;
        if (destination.Length < SizeOf(packet))
            return false;

        destination[written++] = Slip.End;
        foreach (var value in packet)
        {
            if (value is Slip.End or Slip.Escape)
                destination[written++] = Slip.Escape;
            destination[written++] = value switch
            {
                Slip.End => Slip.EscapedEnd,
                Slip.Escape => Slip.EscapedEscape,
                _ => value,
            };
        }

        destination[written++] = Slip.End;
        return true;
    }
}
