namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>The rules by which system exclusive messages carry a check of seven bits; common practice, no standard.</summary>
public enum ChecksumRule
{
    /// <summary>All bytes covered and the checksum add up to a multiple of 128.</summary>
    SumToZero,

    /// <summary>The lower seven bits of the sum of all bytes covered.</summary>
    Sum,

    /// <summary>All bytes covered, combined by exclusive or.</summary>
    ExclusiveOr,
}

/// <summary>How a system exclusive message is checked.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="From">The index of the first byte covered, counted from F0 as 0; the last is the one before the checksum.</param>
public readonly record struct Checksum(ChecksumRule Rule, int From)
{
    /// <summary>Where the profile does not say otherwise: everything after F0 and the checksum add up to a multiple of 128.</summary>
    public static Checksum Usual => new(ChecksumRule.SumToZero, 1);

    /// <summary>The checksum of a message as far as it stands before it.</summary>
    public byte Of(ReadOnlySpan<byte> before)
    {
        var (sum, mixed) = (0, (byte)0);
        foreach (var value in before[Math.Min(From, before.Length)..])
            (sum, mixed) = (sum + value, (byte)(mixed ^ value));
        return Rule switch
        {
            ChecksumRule.Sum => (byte)(sum & 0x7F),
            ChecksumRule.ExclusiveOr => (byte)(mixed & 0x7F),
            _ => (byte)(-sum & 0x7F),
        };
    }
}
