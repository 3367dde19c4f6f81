using System.Buffers;

namespace TrimAssist.Protocols.Osc;

/// <summary>The rules of OSC addresses (OSC 1.0, "OSC Address Spaces and OSC Addresses").</summary>
public static class OscAddress
{
    // OSC 1.0: printable ASCII except space # * , / ? [ ] { }.
    private static readonly SearchValues<byte> NameCharacters =
        SearchValues.Create("!\"$%&'()+-.0123456789:;<=>@ABCDEFGHIJKLMNOPQRSTUVWXYZ\\^_`abcdefghijklmnopqrstuvwxyz|~"u8);

    private static readonly SearchValues<byte> PatternCharacters = SearchValues.Create("?*[]{}"u8);

    /// <summary>Whether a method may have this address: a slash before each part, each part a name.</summary>
    public static bool IsValid(ReadOnlySpan<byte> address)
    {
        if (address.IsEmpty || address[0] != (byte)'/')
            return false;

        foreach (var part in address[1..].Split((byte)'/'))
        {
            if (!IsValidName(address[1..][part]))
                return false;
        }

        return true;
    }

    /// <summary>Whether one part of an address may be called this.</summary>
    public static bool IsValidName(ReadOnlySpan<byte> name) => !name.IsEmpty && !name.ContainsAnyExcept(NameCharacters);

    /// <summary>Whether a received address is a pattern that may match several methods rather than the name of one.</summary>
    public static bool IsPattern(ReadOnlySpan<byte> address)
        => address.ContainsAny(PatternCharacters) || address.IndexOf("//"u8) >= 0;
}
