namespace TrimAssist.Protocols.Midi;

/// <summary>The form of system exclusive messages (MIDI 1.0): F0, data bytes below 128 that begin with an identification, F7.</summary>
public static class SystemExclusive
{
    /// <summary>The identification MIDI 1.0 sets aside for non-commercial use.</summary>
    public const byte NonCommercialId = 0x7D;

    /// <summary>Whether the bytes are one whole message with at least an identification.</summary>
    public static bool IsValid(ReadOnlySpan<byte> bytes)
        => bytes.Length >= 3 && bytes[0] == MidiStatus.Exclusive && bytes[^1] == MidiStatus.EndOfExclusive
            && !bytes[1..^1].ContainsAnyInRange<byte>(0x80, 0xFF);

    /// <summary>Puts F0 and F7 around data; false when a data byte is above 127, there is none, or it does not fit.</summary>
    public static bool TryWrite(ReadOnlySpan<byte> data, Span<byte> destination, out int written)
    {
        written = 0;
        if (data.IsEmpty || data.ContainsAnyInRange<byte>(0x80, 0xFF) || destination.Length < data.Length + 2)
            return false;

        data.CopyTo(destination[1..]);
        destination[0] = MidiStatus.Exclusive;
        destination[data.Length + 1] = MidiStatus.EndOfExclusive;
        written = data.Length + 2;
        return true;
    }
}
