using TrimAssist.Protocols.Osc;

namespace TrimAssist.Fuzz.Targets;

/// <summary>Any bytes as a pattern and an address, parted by the first zero: matching never throws, and a plain address matches exactly itself.</summary>
public static class OscPatternTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var zero = bytes.IndexOf((byte)0);
        var pattern = zero < 0 ? bytes : bytes[..zero];
        var address = zero < 0 ? default : bytes[(zero + 1)..];
        var matches = OscPattern.Matches(pattern, address);
        _ = OscPattern.IsValid(pattern);
        if (OscAddress.IsValid(pattern))
            Expect.That(OscPattern.IsValid(pattern) == (pattern.Length <= OscPattern.MaxLength) && matches == pattern.SequenceEqual(address), "a plain address is not itself");
    }
}
