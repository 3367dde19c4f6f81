using System.Globalization;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Templates;

/// <summary>One argument of a message: a constant, the value's place, or a text with the input's or socket's number in it.</summary>
public sealed class ArgumentTemplate
{
    private readonly TemplatePart[] _parts;

    private ArgumentTemplate(string text, WireValue? constant, TemplatePart[] parts, bool isValue)
    {
        Text = text;
        Constant = constant;
        _parts = parts;
        IsValue = isValue;
    }

    /// <summary>The argument as the profile has it.</summary>
    public string Text { get; }

    /// <summary>The constant; <see langword="null"/> for the others.</summary>
    public WireValue? Constant { get; }

    /// <summary>Whether the control's value stands here.</summary>
    public bool IsValue { get; }

    /// <summary>Whether the input's number or its socket stands here.</summary>
    public bool NamesInput => _parts.Length > 0;

    /// <summary>Whether the socket stands here.</summary>
    public bool HasSocket => Array.Exists(_parts, p => p.Stands == Placeholder.Socket);

    /// <summary>The place of a control's value.</summary>
    public static ArgumentTemplate Value { get; } = new("{value}", null, [], isValue: true);

    /// <summary>A constant.</summary>
    public static ArgumentTemplate Of(WireValue constant) => new(constant.ToString(), constant, [], isValue: false);

    /// <summary>Reads a text argument.</summary>
    /// <param name="text">The text.</param>
    /// <param name="fault">What is wrong with it; <see langword="null"/> when all is well.</param>
    public static ArgumentTemplate? Parse(string text, out string? fault)
    {
        fault = null;
        if (string.Equals(text, "{value}", StringComparison.Ordinal))
            return Value;
        if (text.Contains("{value}", StringComparison.Ordinal))
        {
            fault = "{value} has to stand alone in its argument";
            return null;
        }

        if (!text.Contains('{', StringComparison.Ordinal))
            return Of(new(WireType.Text, 0, text));

        List<TemplatePart> parts = [];
        fault = TemplateSyntax.Split(text, parts);
        return fault is null ? new(text, null, [.. parts], isValue: false) : null;
    }

    /// <summary>The argument for one input: a number alone in braces travels as an integer, anything else as text.</summary>
    /// <returns><see langword="null"/> where the socket is needed and not known, and for the value's place.</returns>
    public WireValue? For(int input, string? socket)
    {
        if (IsValue || Constant is not null)
            return Constant;

        var text = new System.Text.StringBuilder();
        foreach (var part in _parts)
        {
            if (!part.TryWrite(text, input, socket))
                return null;
        }

        var written = text.ToString();
        var alone = _parts is [{ Width: 1 }];
        return alone && int.TryParse(written, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? new(WireType.Whole, number)
            : new(WireType.Text, 0, written);
    }

    /// <inheritdoc/>
    public override string ToString() => Text;
}
