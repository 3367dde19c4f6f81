using System.Globalization;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>A number of a MIDI message: fixed, or the input's number with an offset.</summary>
/// <param name="PerInput">Whether the input's number counts.</param>
/// <param name="Offset">The fixed number, or what is added to the input's.</param>
public readonly record struct MidiNumber(bool PerInput, int Offset)
{
    private const int MostDigits = 6;

    /// <summary>The number for one input.</summary>
    public int For(int input) => PerInput ? input + Offset : Offset;

    /// <summary>The offset in <c>input</c>, <c>input+15</c>, <c>input-1</c>; <see langword="null"/> for any other word.</summary>
    public static int? OffsetOf(string word)
    {
        const string Name = "input";
        if (!word.StartsWith(Name, StringComparison.Ordinal))
            return null;
        var sum = word.AsSpan(Name.Length);
        if (sum.IsEmpty)
            return 0;
        return sum[0] is '+' or '-' && sum.Length <= MostDigits && int.TryParse(sum, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var offset) ? offset : null;
    }

    /// <inheritdoc/>
    public override string ToString() => PerInput
        ? $"{{input{(Offset == 0 ? string.Empty : Offset.ToString("+0;-0", CultureInfo.InvariantCulture))}}}"
        : Offset.ToString(CultureInfo.InvariantCulture);
}
