namespace TrimAssist.Core.Units;

/// <summary>A level difference in dB: a gain, a step, a margin. Two levels subtract to one of these.</summary>
/// <param name="Value">The difference in dB.</param>
public readonly record struct Decibels(double Value) : IComparable<Decibels>
{
    /// <summary>No difference.</summary>
    public static Decibels Zero => default;

    /// <summary>Adds two differences.</summary>
    public static Decibels operator +(Decibels left, Decibels right) => new(left.Value + right.Value);

    /// <summary>Subtracts two differences.</summary>
    public static Decibels operator -(Decibels left, Decibels right) => new(left.Value - right.Value);

    /// <summary>Turns a rise into a fall.</summary>
    public static Decibels operator -(Decibels value) => new(-value.Value);

    /// <summary>Whether <paramref name="left"/> is the smaller difference.</summary>
    public static bool operator <(Decibels left, Decibels right) => left.Value < right.Value;

    /// <summary>Whether <paramref name="left"/> is the larger difference.</summary>
    public static bool operator >(Decibels left, Decibels right) => left.Value > right.Value;

    /// <summary>Whether <paramref name="left"/> is not the larger difference.</summary>
    public static bool operator <=(Decibels left, Decibels right) => left.Value <= right.Value;

    /// <summary>Whether <paramref name="left"/> is not the smaller difference.</summary>
    public static bool operator >=(Decibels left, Decibels right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Decibels other) => Value.CompareTo(other.Value);

    /// <inheritdoc/>
    public override string ToString() => $"{Value:+0.0;-0.0;0.0} dB";
}
