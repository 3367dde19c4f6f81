using System.Globalization;

namespace TrimAssist.Desk.Profiles.Values;

/// <summary>The OSC type in which a value travels.</summary>
public enum WireType
{
    /// <summary>32-bit float, tag f.</summary>
    Real,

    /// <summary>32-bit integer, tag i.</summary>
    Whole,

    /// <summary>64-bit float, tag d.</summary>
    LongReal,

    /// <summary>Text, tag s.</summary>
    Text,

    /// <summary>True or false, tags T and F.</summary>
    Flag,
}

/// <summary>A value with its OSC type.</summary>
/// <param name="Type">The type in which it travels.</param>
/// <param name="Number">The number; 1 and 0 for true and false; 0 for a text that is no number.</param>
/// <param name="Text">The text; <see langword="null"/> for the other types.</param>
public readonly record struct WireValue(WireType Type, double Number, string? Text = null)
{
    /// <summary>Whether both mean the same: texts letter by letter, numbers whatever their types.</summary>
    public bool Means(WireValue other) =>
        Text is null && other.Text is null
            ? Math.Abs(Number - other.Number) <= 1e-6 * Math.Max(1, Math.Abs(Number))
            : string.Equals(AsText, other.AsText, StringComparison.Ordinal);

    private string AsText => Text ?? Number.ToString("R", CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public override string ToString() => Type switch
    {
        WireType.Text => $"\"{Text}\"",
        WireType.Flag => Number != 0 ? "true" : "false",
        WireType.Whole => Number.ToString("0", CultureInfo.InvariantCulture),
        _ => Number.ToString("0.0####", CultureInfo.InvariantCulture),
    };
}
