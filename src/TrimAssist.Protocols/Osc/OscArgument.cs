using System.Text;

namespace TrimAssist.Protocols.Osc;

/// <summary>One OSC argument as a value, for messages at control rate; the tag says its type. Two are equal when they are the same on the wire.</summary>
public readonly partial struct OscArgument : IEquatable<OscArgument>
{
    private readonly ulong _bits;
    private readonly object? _content;

    private OscArgument(byte tag, ulong bits = 0, object? content = null)
    {
        Tag = tag;
        _bits = bits;
        _content = content;
    }

    /// <summary>The type tag; <see cref="OscTypeTag.None"/> for the default of this type, which is no argument.</summary>
    public byte Tag { get; }

    /// <summary>Nothing.</summary>
    public static OscArgument Nil => new(OscTypeTag.Nil);

    /// <summary>An event without a value.</summary>
    public static OscArgument Impulse => new(OscTypeTag.Impulse);

    /// <summary>Start of an array.</summary>
    public static OscArgument ArrayStart => new(OscTypeTag.ArrayStart);

    /// <summary>End of an array.</summary>
    public static OscArgument ArrayEnd => new(OscTypeTag.ArrayEnd);

    /// <summary>The text of a string or symbol; null for other types.</summary>
    public string? Text => _content as string;

    /// <summary>The bytes of a blob; null for other types.</summary>
    public ReadOnlyMemory<byte>? Blob => _content is byte[] bytes ? bytes : null;

    /// <summary>The value of a time tag; null for other types.</summary>
    public OscTimeTag? TimeTag => Tag == OscTypeTag.TimeTag ? new OscTimeTag(_bits) : null;

    /// <summary>The value where the type is a number: <c>i f h d</c>, and <c>T F</c> as 1 and 0; null for other types.</summary>
    public double? Number => Tag switch
    {
        OscTypeTag.Int32 => (int)_bits,
        OscTypeTag.Float => BitConverter.UInt32BitsToSingle((uint)_bits),
        OscTypeTag.Int64 => (long)_bits,
        OscTypeTag.Double => BitConverter.UInt64BitsToDouble(_bits),
        OscTypeTag.True => 1,
        OscTypeTag.False => 0,
        _ => null,
    };

    /// <summary>The same bytes on the wire.</summary>
    public static bool operator ==(OscArgument left, OscArgument right) => left.Equals(right);

    /// <summary>Not the same bytes on the wire.</summary>
    public static bool operator !=(OscArgument left, OscArgument right) => !left.Equals(right);

    /// <summary>A 32-bit integer.</summary>
    public static OscArgument Of(int value) => new(OscTypeTag.Int32, (uint)value);

    /// <summary>A 32-bit float.</summary>
    public static OscArgument Of(float value) => new(OscTypeTag.Float, BitConverter.SingleToUInt32Bits(value));

    /// <summary>A 64-bit integer.</summary>
    public static OscArgument Of(long value) => new(OscTypeTag.Int64, (ulong)value);

    /// <summary>A 64-bit float.</summary>
    public static OscArgument Of(double value) => new(OscTypeTag.Double, BitConverter.DoubleToUInt64Bits(value));

    /// <summary>True or false.</summary>
    public static OscArgument Of(bool value) => new(value ? OscTypeTag.True : OscTypeTag.False);

    /// <summary>A time tag.</summary>
    public static OscArgument Of(OscTimeTag value) => new(OscTypeTag.TimeTag, value.Value);

    /// <summary>A string; it may hold no zero character.</summary>
    public static OscArgument Of(string value) => new(OscTypeTag.Text, content: value);

    /// <summary>A blob; the bytes are copied.</summary>
    public static OscArgument OfBlob(ReadOnlySpan<byte> value) => new(OscTypeTag.Blob, content: value.ToArray());

    /// <summary>A string used as a symbol.</summary>
    public static OscArgument OfSymbol(string value) => new(OscTypeTag.Symbol, content: value);

    /// <summary>A character.</summary>
    public static OscArgument OfCharacter(Rune value) => new(OscTypeTag.Character, (uint)value.Value);

    /// <summary>A colour, 0xRRGGBBAA.</summary>
    public static OscArgument OfColour(uint value) => new(OscTypeTag.Colour, value);

    /// <summary>A MIDI message: from the top byte port, status, data 1, data 2.</summary>
    public static OscArgument OfMidi(uint value) => new(OscTypeTag.Midi, value);

    /// <inheritdoc/>
    public bool Equals(OscArgument other)
        => Tag == other.Tag && _bits == other._bits && string.Equals(Text, other.Text, StringComparison.Ordinal)
            && (_content as byte[]).AsSpan().SequenceEqual(other._content as byte[]);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is OscArgument other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.Add(Tag);
        hash.Add(_bits);
        if (_content is string text)
            hash.Add(text, StringComparer.Ordinal);
        hash.AddBytes(_content as byte[]);
        return hash.ToHashCode();
    }

    /// <inheritdoc/>
    public override string ToString() => Tag switch
    {
        OscTypeTag.None => "none",
        OscTypeTag.Text or OscTypeTag.Symbol => $"\"{Text}\"",
        OscTypeTag.Blob => $"blob of {Blob?.Length} bytes",
        OscTypeTag.TimeTag => new OscTimeTag(_bits).ToString(),
        _ when Number is { } number => $"{(char)Tag}:{number}",
        OscTypeTag.Character or OscTypeTag.Colour or OscTypeTag.Midi => $"{(char)Tag}:{_bits:X8}",
        _ => $"{(char)Tag}",
    };
}
