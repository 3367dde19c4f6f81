namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>Finds packets in a stream whose bytes arrive cut anywhere.</summary>
public interface IOscDeframer
{
    /// <summary>The first fault met.</summary>
    FramingError Error { get; }

    /// <summary>Frames left out so far.</summary>
    long Refused { get; }

    /// <summary>Whether the stream can give no more packets, because after this fault nobody knows where the next one begins.</summary>
    bool IsLost { get; }

    /// <summary>Takes bytes off <paramref name="input"/> until a packet is whole; false when all are taken and more are needed.</summary>
    /// <remarks>The packet stays valid until the next call and as long as the input does; it is not yet checked as OSC.</remarks>
    bool TryRead(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet);
}
