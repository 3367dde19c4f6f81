namespace TrimAssist.Core.Units;

/// <summary>A level in dBu: decibels relative to 0.7746 V RMS (the square root of 0.6, IEC 60027-3). Two levels do not add; they subtract to <see cref="Decibels"/>.</summary>
/// <remarks>"No value" is <see langword="null"/>, never a number: the default of this type is 0 dBu.</remarks>
/// <param name="Value">The level in dBu.</param>
public readonly record struct Dbu(double Value) : IComparable<Dbu>
{
    /// <summary>The difference between two levels.</summary>
    public static Decibels operator -(Dbu left, Dbu right) => new(left.Value - right.Value);

    /// <summary>A level after a gain.</summary>
    public static Dbu operator +(Dbu level, Decibels gain) => new(level.Value + gain.Value);

    /// <summary>A level after a loss.</summary>
    public static Dbu operator -(Dbu level, Decibels loss) => new(level.Value - loss.Value);

    /// <summary>Whether <paramref name="left"/> is the lower level.</summary>
    public static bool operator <(Dbu left, Dbu right) => left.Value < right.Value;

    /// <summary>Whether <paramref name="left"/> is the higher level.</summary>
    public static bool operator >(Dbu left, Dbu right) => left.Value > right.Value;

    /// <summary>Whether <paramref name="left"/> is not the higher level.</summary>
    public static bool operator <=(Dbu left, Dbu right) => left.Value <= right.Value;

    /// <summary>Whether <paramref name="left"/> is not the lower level.</summary>
    public static bool operator >=(Dbu left, Dbu right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Dbu other) => Value.CompareTo(other.Value);

    /// <inheritdoc/>
    public override string ToString() => $"{Value:0.0} dBu";
}
