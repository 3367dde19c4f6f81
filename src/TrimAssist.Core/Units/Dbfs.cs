namespace TrimAssist.Core.Units;

/// <summary>A level in dBFS: decibels relative to digital full scale; peaks by sample magnitude (1.0 is 0 dBFS), RMS after AES17 (a full-scale sine reads 0 dBFS). Two levels do not add; they subtract to <see cref="Decibels"/>.</summary>
/// <remarks>"No value" is <see langword="null"/>, never a number: the default of this type is full scale.</remarks>
/// <param name="Value">The level in dBFS.</param>
public readonly record struct Dbfs(double Value) : IComparable<Dbfs>
{
    /// <summary>The difference between two levels.</summary>
    public static Decibels operator -(Dbfs left, Dbfs right) => new(left.Value - right.Value);

    /// <summary>A level after a gain.</summary>
    public static Dbfs operator +(Dbfs level, Decibels gain) => new(level.Value + gain.Value);

    /// <summary>A level after a loss.</summary>
    public static Dbfs operator -(Dbfs level, Decibels loss) => new(level.Value - loss.Value);

    /// <summary>Whether <paramref name="left"/> is the lower level.</summary>
    public static bool operator <(Dbfs left, Dbfs right) => left.Value < right.Value;

    /// <summary>Whether <paramref name="left"/> is the higher level.</summary>
    public static bool operator >(Dbfs left, Dbfs right) => left.Value > right.Value;

    /// <summary>Whether <paramref name="left"/> is not the higher level.</summary>
    public static bool operator <=(Dbfs left, Dbfs right) => left.Value <= right.Value;

    /// <summary>Whether <paramref name="left"/> is not the lower level.</summary>
    public static bool operator >=(Dbfs left, Dbfs right) => left.Value >= right.Value;

    /// <inheritdoc/>
    public int CompareTo(Dbfs other) => Value.CompareTo(other.Value);

    /// <inheritdoc/>
    public override string ToString() => $"{Value:0.0} dBFS";
}
