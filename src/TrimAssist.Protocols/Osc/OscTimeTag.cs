namespace TrimAssist.Protocols.Osc;

/// <summary>An OSC time tag: 32.32 fixed-point seconds in NTP form, or "immediately" (OSC 1.0, "OSC Time Tags").</summary>
/// <remarks>A clear top bit means the era after 2036-02-07 06:28:16 UTC (the convention of RFC 4330, section 3), so instants from 1968 to 2104 are told apart.</remarks>
/// <param name="Value">The 64 bits as sent.</param>
public readonly record struct OscTimeTag(ulong Value) : IComparable<OscTimeTag>
{
    private const ulong TopBit = 1UL << 63;
    private const ulong EraLength = 1UL << 32;

    // RFC 868: seconds from 1900-01-01 to 1970-01-01.
    private const long UnixEpochInNtpSeconds = 2_208_988_800;

    /// <summary>"Immediately": 63 zero bits and a one.</summary>
    public static OscTimeTag Immediate => new(1);

    /// <summary>The first instant a tag can name: 1968-01-20 03:14:08 UTC.</summary>
    public static DateTimeOffset Earliest { get; } = DateTimeOffset.FromUnixTimeSeconds((long)(EraLength / 2) - UnixEpochInNtpSeconds);

    /// <summary>The first instant after those a tag can name: 2104-02-26 09:42:24 UTC.</summary>
    public static DateTimeOffset End { get; } = DateTimeOffset.FromUnixTimeSeconds((long)(EraLength / 2 * 3) - UnixEpochInNtpSeconds);

    /// <summary>Whether the tag says "immediately" rather than an instant.</summary>
    public bool IsImmediate => Value == 1;

    private ulong Order => IsImmediate ? 0 : unchecked(Value + TopBit);

    /// <summary>Whether the left tag is the earlier.</summary>
    public static bool operator <(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) < 0;

    /// <summary>Whether the left tag is the later.</summary>
    public static bool operator >(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) > 0;

    /// <summary>Whether the left tag is not the later.</summary>
    public static bool operator <=(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) <= 0;

    /// <summary>Whether the left tag is not the earlier.</summary>
    public static bool operator >=(OscTimeTag left, OscTimeTag right) => left.CompareTo(right) >= 0;

    /// <summary>The tag nearest to an instant; exact to the 100 ns tick.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The instant is outside <see cref="Earliest"/> to <see cref="End"/>.</exception>
    public static OscTimeTag From(DateTimeOffset instant)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(instant, Earliest);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(instant, End);
        var ticks = (ulong)((instant - DateTimeOffset.UnixEpoch).Ticks + (UnixEpochInNtpSeconds * TimeSpan.TicksPerSecond));
        var (seconds, rest) = Math.DivRem(ticks, (ulong)TimeSpan.TicksPerSecond);
        var fraction = ((rest * EraLength) + (TimeSpan.TicksPerSecond / 2)) / TimeSpan.TicksPerSecond;
        return new(unchecked((seconds << 32) | fraction));
    }

    /// <summary>The instant of the tag, to the nearest 100 ns tick; null for "immediately".</summary>
    public DateTimeOffset? ToDateTimeOffset()
    {
        if (IsImmediate)
            return null;

        var seconds = (Value >> 32) + ((Value & TopBit) == 0 ? EraLength : 0);
        var ticks = (((Value & uint.MaxValue) * TimeSpan.TicksPerSecond) + (EraLength / 2)) / EraLength;
        return DateTimeOffset.UnixEpoch.AddTicks((((long)seconds - UnixEpochInNtpSeconds) * TimeSpan.TicksPerSecond) + (long)ticks);
    }

    /// <summary>Whether what carries this tag is due at <paramref name="now"/>: immediate or not in the future (OSC 1.0, "Temporal Semantics").</summary>
    public bool IsDue(DateTimeOffset now) => ToDateTimeOffset() is not { } instant || instant <= now;

    /// <summary>Orders tags in time; "immediately" comes before every instant.</summary>
    public int CompareTo(OscTimeTag other) => Order.CompareTo(other.Order);

    /// <inheritdoc/>
    public override string ToString() => IsImmediate ? "immediately" : $"{Value >> 32:X8}.{Value & uint.MaxValue:X8}";
}
